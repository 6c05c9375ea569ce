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
 * @param freeThroatFraction free part of the throat's area, 0.05 to 1; 1 when nothing chokes or obstructs it
 * @param heatUpPressurePa gauge pressure used for heating up, in predictions, Pa, 1 kPa to 400 kPa
 */
public record Burner(
        Fuel fuel,
        double jetDiameterM,
        double throatDiameterM,
        double dischargeCoefficient,
        double dischargeStandardUncertainty,
        double freeThroatFraction,
        double heatUpPressurePa) {
    /** Bores of a jet, m. */
    public static final Range JET_M = new Range(1e-4, 5e-3);
    /** Bores of a mixing tube's throat, m. */
    public static final Range THROAT_M = new Range(1e-3, 0.2);
    /** Discharge coefficients, 1; a jet cannot pass more than the isentropic flow. */
    public static final Range DISCHARGE = new Range(0.3, 1);
    /** Standard uncertainties of a discharge coefficient, 1. */
    public static final Range DISCHARGE_UNCERTAINTY = new Range(0, 0.3);
    /** Free parts of a throat's area, 1; with less a burner does not burn. Common practice, no source. */
    public static final Range FREE_THROAT = new Range(0.05, 1);
    /** Gauge pressures for heating up, Pa: up to the highest that hand-held regulators give. Common practice, no source. */
    public static final Range HEAT_UP_PA = new Range(1e3, 4e5);
    /** Gauge pressure for heating up unless told, Pa. Common practice, no source. */
    public static final double DEFAULT_HEAT_UP_PA = 1e5;

    public Burner {
        JET_M.require("jet bore in m", jetDiameterM);
        THROAT_M.require("throat bore in m", throatDiameterM);
        DISCHARGE.require("discharge coefficient", dischargeCoefficient);
        DISCHARGE_UNCERTAINTY.require("uncertainty of the discharge coefficient", dischargeStandardUncertainty);
        FREE_THROAT.require("free part of the throat", freeThroatFraction);
        HEAT_UP_PA.require("gauge pressure for heating up in Pa", heatUpPressurePa);
        if (throatDiameterM <= jetDiameterM) {
            throw new IllegalArgumentException(
                    "the throat must be wider than the jet: " + throatDiameterM + " m against " + jetDiameterM + " m");
        }
    }

    /** A burner with nothing in its throat, heated up at {@link #DEFAULT_HEAT_UP_PA}. */
    public Burner(
            Fuel fuel,
            double jetDiameterM,
            double throatDiameterM,
            double dischargeCoefficient,
            double dischargeStandardUncertainty) {
        this(
                fuel,
                jetDiameterM,
                throatDiameterM,
                dischargeCoefficient,
                dischargeStandardUncertainty,
                1,
                DEFAULT_HEAT_UP_PA);
    }
}
