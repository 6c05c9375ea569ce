package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;
import static org.bankfire.analysis.Fixtures.number;
import static org.bankfire.analysis.Fixtures.text;

import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.reading.Unit;
import org.junit.jupiter.api.Test;

class JetTest {
    private static final double CELSIUS_15_K = 288.15;
    private static final double FAHRENHEIT_60_K = 288.706;
    private static final double CUBIC_FOOT_M3 = 0.3048 * 0.3048 * 0.3048;
    private static final double INCH_M = 0.0254;
    private static final double AIR_KG_PER_MOL = 0.0289647;
    private static final double SEA_LEVEL_PA = Atmosphere.SEA_LEVEL_PA;

    /** Critical pressure ratio and ideal critical flow factor, ISO 9300. */
    @Test
    void aChokedJetPassesTheIdealCriticalFlowOfIso9300() {
        for (Map<String, String> row : Fixtures.rows("gas/choked_flow_examples.csv")) {
            double k = number(row, "k");
            JetGas gas = new JetGas(0.044, k);
            assertThat(SEA_LEVEL_PA / (SEA_LEVEL_PA + Jet.chokingGaugePa(gas, SEA_LEVEL_PA)))
                    .as("critical ratio at k = %s", k)
                    .isCloseTo(number(row, "p_crit_over_p0"), within(1e-9));
            double gaugePa = 5e5;
            double specificGasConstant = 8.314462618 / 0.044;
            double expected = number(row, "C_star")
                    * Math.PI
                    / 4
                    * 1e-6
                    * (SEA_LEVEL_PA + gaugePa)
                    / Math.sqrt(specificGasConstant * CELSIUS_15_K);
            assertThat(Jet.massFlowKgPerS(gas, 1e-3, 1, gaugePa, SEA_LEVEL_PA, CELSIUS_15_K))
                    .as("choked flow at k = %s", k)
                    .isCloseTo(expected, withinPercentage(1e-7));
        }
    }

    /** Isentropic flow of an ideal gas, computed apart from this program; conditions in the file. */
    @Test
    void propaneJetsPassWhatWasComputedApart() {
        JetGas propane = new JetGas(0.0440956, 1.13);
        for (Map<String, String> row : Fixtures.rows("gas/jet_examples.csv")) {
            double gaugePa = number(row, "gauge_kPa") * 1e3;
            assertThat(Jet.massFlowKgPerS(
                            propane, number(row, "diameter_mm") * 1e-3, 1, gaugePa, SEA_LEVEL_PA, CELSIUS_15_K))
                    .as("flow of %s", row)
                    .isCloseTo(number(row, "flow_g_per_s") * 1e-3, withinPercentage(0.005));
            assertThat(gaugePa > Jet.chokingGaugePa(propane, SEA_LEVEL_PA))
                    .as("choked: %s", row)
                    .isEqualTo(text(row, "regime").equals("choked"));
        }
    }

    /** The product's text says 0.74 bar gauge at sea level. */
    @Test
    void propaneChokesAtAboutThreeQuartersOfABar() {
        assertThat(Jet.chokingGaugePa(Fuel.PROPANE.jetGas(), SEA_LEVEL_PA)).isCloseTo(0.74e5, within(0.005e5));
    }

    /**
     * Cengel and Boles, example 17-5 (from memory): air at 1 MPa, 600 °C and 150 m/s into a nozzle of 50 cm² throat;
     * stagnation 884 K and 1.045 MPa. 6.77 kg/s against 0.7 MPa, 7.10 kg/s against 0.4 MPa.
     */
    @Test
    void aTextbookNozzleIsReproducedOnBothSidesOfChoking() {
        JetGas air = new JetGas(8.314462618 / 287, 1.4);
        double diameterM = Math.sqrt(4 / Math.PI * 50e-4);
        assertThat(Jet.massFlowKgPerS(air, diameterM, 1, 1.045e6 - 0.7e6, 0.7e6, 884))
                .isCloseTo(6.77, withinPercentage(0.4));
        assertThat(Jet.massFlowKgPerS(air, diameterM, 1, 1.045e6 - 0.4e6, 0.4e6, 884))
                .isCloseTo(7.10, withinPercentage(0.4));
    }

    /**
     * Expansibility of a nozzle, ISO 5167-3, as printed in the documentation of the fluids library: 0.99457 for air from 1 to
     * 0.99 bar, 22.2 mm in a pipe of 73.9 mm. A jet fed from rest lacks the approach, which is worth 0.00006.
     */
    @Test
    void aGasPassesLessThanALiquidOfItsDensityByTheExpansibilityOfIso5167() {
        JetGas air = new JetGas(AIR_KG_PER_MOL, 1.4);
        double density = 1e5 * AIR_KG_PER_MOL / (8.314462618 * CELSIUS_15_K);
        double liquid = Math.PI / 4 * 0.0222 * 0.0222 * Math.sqrt(2 * density * 1e3);
        assertThat(Jet.massFlowKgPerS(air, 0.0222, 1, 1e3, 9.9e4, CELSIUS_15_K) / liquid)
                .isCloseTo(0.99457 + 0.00006, within(1e-5));
    }

    /** Plumbing orifice table of BCcampus: discharge 0.9, volumes of gas at 60 °F and sea level. */
    @Test
    void smallPressuresPassWhatTheCollegeTableSays() {
        String[] columns = {
            "NG_1.0inwc",
            "NG_3.0",
            "NG_3.5",
            "NG_4.0",
            "NG_7.0",
            "propane_10.0",
            "propane_11.0",
            "butane_10.0",
            "butane_11.0"
        };
        for (Map<String, String> row : Fixtures.rows("gas/orifice_bccampus_cfh.csv")) {
            for (String column : columns) {
                String[] parts = column.replace("inwc", "").split("_", -1);
                JetGas gas = ofRelativeDensity(parts[0]);
                double gaugePa = Unit.INCH_OF_WATER.toSi(Double.parseDouble(parts[1]));
                double flowKgPerS = Jet.massFlowKgPerS(
                        gas, number(row, "dia_in") * INCH_M, 0.9, gaugePa, SEA_LEVEL_PA, FAHRENHEIT_60_K);
                double cubicFeetPerHour = flowKgPerS * 3600 / density(gas) / CUBIC_FOOT_M3;
                assertThat(cubicFeetPerHour)
                        .as("%s through %s inch", column, text(row, "dia_in"))
                        .isCloseTo(number(row, column), withinPercentage(1.5));
            }
        }
    }

    /**
     * NFPA 54 table E.1.1(b), from memory: discharge 0.9, 11 inches of water, gross heating values as in its head. The
     * table lies 2.4 % above the incompressible formula that it states, and compressibility takes off another 0.4 %.
     */
    @Test
    void smallPressuresGiveTheHeatThatTheCodeTableSays() {
        double gaugePa = Unit.INCH_OF_WATER.toSi(11);
        for (Map<String, String> row : Fixtures.rows("gas/orifice_nfpa54_annexE_btuh.csv")) {
            double diameterM = number(row, "dia_in") * INCH_M;
            assertThat(heatBtuPerHour(new JetGas(1.52 * AIR_KG_PER_MOL, 1.131), 2516, diameterM, gaugePa))
                    .as("propane through %s", text(row, "orifice"))
                    .isCloseTo(number(row, "propane_btu_h"), withinPercentage(3.5));
            assertThat(heatBtuPerHour(new JetGas(2.01 * AIR_KG_PER_MOL, 1.095), 3280, diameterM, gaugePa))
                    .as("butane through %s", text(row, "orifice"))
                    .isCloseTo(number(row, "butane_btu_h"), withinPercentage(3.5));
        }
    }

    @Test
    void theFlowGrowsWithoutAStepThroughChoking() {
        double last = 0;
        for (double gaugePa = 1; gaugePa < 4e5; gaugePa += 50) {
            double flow = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, gaugePa, SEA_LEVEL_PA, CELSIUS_15_K);
            assertThat(flow).as("flow at %s Pa", gaugePa).isGreaterThan(last);
            if (gaugePa > 1000) {
                assertThat(flow / last).as("step at %s Pa", gaugePa).isLessThan(1.03);
            }
            last = flow;
        }
    }

    /** Bernoulli: Cd·A·sqrt(2ρΔp) is the limit for small pressures. */
    @Test
    void theSmallestPressuresFollowBernoulliToTheLastDigits() {
        double density = SEA_LEVEL_PA * Fuel.PROPANE.molarMassKgPerMol() / (8.314462618 * CELSIUS_15_K);
        double bernoulli = 0.85 * Math.PI / 4 * 0.64e-6 * Math.sqrt(2 * density * 1e-3);
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 1e-3, SEA_LEVEL_PA, CELSIUS_15_K))
                .isCloseTo(bernoulli, withinPercentage(1e-5));
    }

    @Test
    void coldGasAndThinAirChangeTheFlowAsTheyShould() {
        double usual = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 1.5e5, SEA_LEVEL_PA, CELSIUS_15_K);
        double cold = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 1.5e5, SEA_LEVEL_PA, CELSIUS_15_K - 30);
        assertThat(cold / usual).isCloseTo(Math.sqrt(288.15 / 258.15), within(1e-12));
        double high = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 1.5e5, 79_495, CELSIUS_15_K);
        assertThat(high / usual).isCloseTo((79_495 + 1.5e5) / (SEA_LEVEL_PA + 1.5e5), within(1e-12));
    }

    @Test
    void nothingFlowsBackIntoTheHoseAndNonsenseIsNotANumber() {
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 0, SEA_LEVEL_PA, CELSIUS_15_K))
                .isZero();
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, -50, SEA_LEVEL_PA, CELSIUS_15_K))
                .isZero();
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, Double.NaN, SEA_LEVEL_PA, CELSIUS_15_K))
                .isNaN();
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), -1, 0.85, 1e5, SEA_LEVEL_PA, CELSIUS_15_K))
                .isNaN();
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 1.2, 1e5, SEA_LEVEL_PA, CELSIUS_15_K))
                .isNaN();
        assertThat(Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 1e5, SEA_LEVEL_PA, Double.NaN))
                .isNaN();
    }

    /** First order against the flow itself: half the difference of the flows at p ± u. */
    @Test
    void theUncertaintyIsHowFarTheFlowMovesWithThePressure() {
        for (double gaugePa : new double[] {2e3, 2e4, 6e4, 7.3e4, 8e4, 3e5}) {
            double u = 0.001 * gaugePa;
            double up = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 1e-3, 1, gaugePa + u, SEA_LEVEL_PA, CELSIUS_15_K);
            double down = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 1e-3, 1, gaugePa - u, SEA_LEVEL_PA, CELSIUS_15_K);
            assertThat(Jet.relativeUncertainty(Fuel.PROPANE.jetGas(), gaugePa, u, SEA_LEVEL_PA, 1, 0))
                    .as("at %s Pa", gaugePa)
                    .isCloseTo((up - down) / (up + down), withinPercentage(0.1));
        }
    }

    @Test
    void theCoefficientsUncertaintyAddsInQuadrature() {
        double both = Jet.relativeUncertainty(Fuel.PROPANE.jetGas(), 1e5, 3000, SEA_LEVEL_PA, 0.85, 0.034);
        assertThat(both).isCloseTo(Math.hypot(3000 / (SEA_LEVEL_PA + 1e5), 0.04), within(1e-12));
        assertThat(Jet.relativeUncertainty(Fuel.PROPANE.jetGas(), 0, 3000, SEA_LEVEL_PA, 0.85, 0.034))
                .isNaN();
    }

    /** ISO 2533 table, geopotential altitudes (from memory; the same in U.S. Standard Atmosphere 1976). */
    @Test
    void thePressureAtAltitudeIsThatOfTheStandardAtmosphere() {
        assertThat(Atmosphere.pressurePa(0)).isEqualTo(101_325);
        assertThat(Atmosphere.pressurePa(1000)).isCloseTo(89_874.6, within(0.5));
        assertThat(Atmosphere.pressurePa(2000)).isCloseTo(79_495.2, within(0.5));
        assertThat(Atmosphere.pressurePa(5000)).isCloseTo(54_019.9, within(0.5));
        assertThat(Atmosphere.pressurePa(11_000)).isCloseTo(22_632.0, within(0.5));
    }

    private static double heatBtuPerHour(JetGas gas, double btuPerCubicFoot, double diameterM, double gaugePa) {
        double flowKgPerS = Jet.massFlowKgPerS(gas, diameterM, 0.9, gaugePa, SEA_LEVEL_PA, FAHRENHEIT_60_K);
        return flowKgPerS * 3600 / density(gas) / CUBIC_FOOT_M3 * btuPerCubicFoot;
    }

    private static double density(JetGas gas) {
        return SEA_LEVEL_PA * gas.molarMassKgPerMol() / (8.314462618 * FAHRENHEIT_60_K);
    }

    private static JetGas ofRelativeDensity(String name) {
        return switch (name) {
            case "NG" -> new JetGas(0.60 * AIR_KG_PER_MOL, 1.308);
            case "propane" -> new JetGas(1.50 * AIR_KG_PER_MOL, 1.131);
            default -> new JetGas(2.00 * AIR_KG_PER_MOL, 1.095);
        };
    }
}
