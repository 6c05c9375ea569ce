package org.bankfire.analysis.monitor;

import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;

/** Whether gas flows, and how much goes through the jet that is in force. */
final class GasState {
    /** Gas counts as off below this part of the pressure from which it counts as on. */
    private static final double OFF_PART = 0.6;

    /** Two samples must agree before gas is on or off: a single one may be a spike. */
    private static final int AGREEING = 2;

    private static final double MIN_JET_M = 1e-4;
    private static final double MAX_JET_M = 5e-3;

    /** Gas temperature is known to about this, K: the cylinder cools while the hose warms. */
    private static final double GAS_TEMPERATURE_UNCERTAINTY_K = 5;

    /** A drilled jet's bore as its maker states it: ±0.5 % in diameter, common practice, no source. */
    private static final double BORE_RELATIVE_UNCERTAINTY = 0.005;

    private final Burner burner;
    private final double onPa;
    private final double ambientPa;
    private double jetM;
    private double gasK;

    private boolean flowing;
    private int disagreeing;
    private long changeAt;
    private long onAt;
    private long offAt;
    private double gaugePa = Double.NaN;
    private double flowKgPerS = Double.NaN;

    GasState(Burner burner, double onPa, double ambientPa, double gasK) {
        this.burner = burner;
        this.onPa = onPa;
        this.ambientPa = ambientPa;
        this.jetM = burner.jetDiameterM();
        this.gasK = gasK;
    }

    /**
     * Takes a good pressure.
     *
     * @return whether gas has come on or gone off by it
     */
    boolean accept(long at, double pressurePa) {
        if (pressurePa != gaugePa) {
            gaugePa = pressurePa;
            flowKgPerS = flow(jetM, pressurePa, gasK);
        }
        boolean on = flowing ? pressurePa >= OFF_PART * onPa : pressurePa >= onPa;
        if (on == flowing) {
            disagreeing = 0;
            return false;
        }
        if (disagreeing == 0) {
            changeAt = at;
        }
        disagreeing++;
        if (disagreeing < AGREEING) {
            return false;
        }
        disagreeing = 0;
        flowing = on;
        if (on) {
            onAt = changeAt;
        } else {
            offAt = changeAt;
        }
        return true;
    }

    /** Another jet, m; a size that no jet has is ignored. */
    void jet(double diameterM) {
        if (diameterM >= MIN_JET_M && diameterM <= MAX_JET_M) {
            jetM = diameterM;
            flowKgPerS = flow(jetM, gaugePa, gasK);
        }
    }

    void gasTemperature(double kelvin) {
        if (kelvin > 200 && kelvin < 400) {
            gasK = kelvin;
            flowKgPerS = flow(jetM, gaugePa, gasK);
        }
    }

    boolean isFlowing() {
        return flowing;
    }

    /** Whether the latest pressure agrees that gas flows: false while a drop awaits its second sample. */
    boolean isFlowingForSure() {
        return flowing && disagreeing == 0;
    }

    /** Whether the latest pressure agrees that none flows: false while a rise awaits its second sample. */
    boolean isOffForSure() {
        return !flowing && disagreeing == 0;
    }

    /** When gas came on, µs. */
    long onAt() {
        return onAt;
    }

    /** When gas went off, µs. */
    long offAt() {
        return offAt;
    }

    double gaugePa() {
        return gaugePa;
    }

    /** Flow through the jet, kg/s; NaN before the first pressure. */
    double flowKgPerS() {
        return flowKgPerS;
    }

    /**
     * Standard uncertainty of the flow over the flow: discharge coefficient, bore, pressure and gas temperature, combined
     * as in the GUM, 5.1.2, with the slope over pressure by difference.
     */
    double relativeUncertainty(Reading gas) {
        if (!(flowKgPerS > 0)) {
            return Double.NaN;
        }
        double discharge = burner.dischargeStandardUncertainty() / burner.dischargeCoefficient();
        double bore = 2 * BORE_RELATIVE_UNCERTAINTY;
        double temperature = GAS_TEMPERATURE_UNCERTAINTY_K / gasK / 2;
        double pressure = 0;
        if (!Double.isNaN(gas.standardUncertainty()) && gas.unit().quantity() == Unit.Quantity.PRESSURE) {
            double uncertaintyPa = gas.standardUncertainty() * gas.unit().factor();
            pressure = (flow(jetM, gaugePa + uncertaintyPa, gasK) - flowKgPerS) / flowKgPerS;
        }
        return Math.sqrt(discharge * discharge + bore * bore + temperature * temperature + pressure * pressure);
    }

    private double flow(double diameterM, double pressurePa, double temperatureK) {
        return Jet.massFlowKgPerS(
                burner.fuel().jetGas(), diameterM, burner.dischargeCoefficient(), pressurePa, ambientPa, temperatureK);
    }
}
