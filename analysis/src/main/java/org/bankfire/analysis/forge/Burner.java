package org.bankfire.analysis.forge;

import org.bankfire.analysis.gas.Fuel;

/**
 * The atmospheric burner.
 *
 * @param fuel what it burns
 * @param jetDiameterM bore of the jet, m, 0.1 to 5 mm
 * @param throatDiameterM narrowest bore of the mixing tube, m, wider than the jet
 * @param dischargeCoefficient of the jet, 0.3 to 1
 * @param dischargeStandardUncertainty of the coefficient, coverage factor 1
 */
public record Burner(
        Fuel fuel,
        double jetDiameterM,
        double throatDiameterM,
        double dischargeCoefficient,
        double dischargeStandardUncertainty) {}
