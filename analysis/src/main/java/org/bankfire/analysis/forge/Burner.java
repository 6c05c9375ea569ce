package org.bankfire.analysis.forge;

import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.quantity.Range;

/**
 * The atmospheric burner. The ranges hold whatever a hand-held or a workshop forge can use: common practice, no
 * source.
 *
 * @param fuel what it burns
 * @param jetDiameterM bore of the jet, m, 0.1 to 5 mm
 * @param throatDiameterM narrowest bore of the mixing tube, m, 1 to 200 mm, wider than the jet
 * @param dischargeCoefficient of the jet, 0.3 to 1
 * @param dischargeStandardUncertainty of the coefficient, coverage factor 1, 0 to 0.3
 */
public record Burner(
        Fuel fuel,
        double jetDiameterM,
        double throatDiameterM,
        double dischargeCoefficient,
        double dischargeStandardUncertainty) {
    /** Bores of a jet, m. */
    public static final Range JET_M = new Range(1e-4, 5e-3);
    /** Bores of a mixing tube's throat, m. */
    public static final Range THROAT_M = new Range(1e-3, 0.2);
    /** Discharge coefficients, 1; a jet cannot pass more than the isentropic flow. */
    public static final Range DISCHARGE = new Range(0.3, 1);
    /** Standard uncertainties of a discharge coefficient, 1. */
    public static final Range DISCHARGE_UNCERTAINTY = new Range(0, 0.3);

    public Burner {
        JET_M.require("jet bore in m", jetDiameterM);
        THROAT_M.require("throat bore in m", throatDiameterM);
        DISCHARGE.require("discharge coefficient", dischargeCoefficient);
        DISCHARGE_UNCERTAINTY.require("uncertainty of the discharge coefficient", dischargeStandardUncertainty);
        if (throatDiameterM <= jetDiameterM) {
            throw new IllegalArgumentException(
                    "the throat must be wider than the jet: " + throatDiameterM + " m against " + jetDiameterM + " m");
        }
    }
}
