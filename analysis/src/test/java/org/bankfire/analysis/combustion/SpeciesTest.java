package org.bankfire.analysis.combustion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Hydrocarbon;
import org.junit.jupiter.api.Test;

class SpeciesTest {
    private static final double REFERENCE_K = 298.15;
    /** Heat of condensation of water at 25 °C, J/mol (NASA TM-4513, gas less liquid). */
    private static final double CONDENSATION_J_PER_MOL = 44_004;

    /** Sources by the row: Turns, appendix B, and ISO 6976:1995, table 3, both from memory. */
    @Test
    void heatingValuesFromThePolynomialsAgreeWithThePublishedOnes() {
        int compared = 0;
        for (Map<String, String> row : Fixtures.rows("combustion/published_values.csv")) {
            Species fuel = species(Fixtures.text(row, "fuel"));
            double lower = lowerJPerMol(fuel);
            double higher = lower + fuel.hydrogen() / 2.0 * CONDENSATION_J_PER_MOL;
            double value = Fixtures.number(row, "value");
            switch (Fixtures.text(row, "quantity")) {
                case "LHV" ->
                    assertThat(lower / fuel.molarMassKgPerMol() / 1e3)
                            .as(row.toString())
                            .isCloseTo(value, withinPercentage(0.1));
                case "HHV" ->
                    assertThat(higher / fuel.molarMassKgPerMol() / 1e3)
                            .as(row.toString())
                            .isCloseTo(value, withinPercentage(0.1));
                case "HHV_molar_25C" ->
                    assertThat(higher / 1e3).as(row.toString()).isCloseTo(value, withinPercentage(0.02));
                default -> compared--;
            }
            compared++;
        }
        assertThat(compared).isEqualTo(10);
    }

    @Test
    void fuelsKnowTheSameHeatAsThePolynomials() {
        for (Hydrocarbon gas : Hydrocarbon.values()) {
            if (gas != Hydrocarbon.PROPYLENE) {
                Fuel fuel = Fuel.of("one", Map.of(gas, 1.0));
                assertThat(lowerJPerMol(species(gas.formula())) / fuel.molarMassKgPerMol())
                        .as(gas.formula())
                        .isCloseTo(fuel.lowerHeatingValueJPerKg(), withinPercentage(0.001));
            }
        }
    }

    /**
     * NIST-JANAF and CODATA key values (from memory): formation at 298.15 K in kJ/mol, entropy at 1 bar in J/(mol K), heat
     * capacity at 298.15 K in J/(mol K).
     */
    @Test
    void formationEntropyAndHeatCapacityAreThoseOfTheTables() {
        assertTable(Species.CARBON_DIOXIDE, -393.51, 213.79, 37.13);
        assertTable(Species.CARBON_MONOXIDE, -110.53, 197.66, 29.14);
        assertTable(Species.WATER, -241.83, 188.83, 33.59);
        assertTable(Species.HYDROGEN, 0, 130.68, 28.84);
        assertTable(Species.OXYGEN, 0, 205.15, 29.38);
        assertTable(Species.NITROGEN, 0, 191.61, 29.12);
        assertTable(Species.OXYGEN_ATOM, 249.18, 161.06, 21.91);
        assertTable(Species.HYDROGEN_ATOM, 218.00, 114.72, 20.79);
        assertTable(Species.NITRIC_OXIDE, 91.3, 210.76, 29.86);
        assertTable(Species.HYDROXYL, 39.3, 183.74, 29.89);
    }

    private static void assertTable(Species species, double formation, double entropy, double heatCapacity) {
        assertThat(species.enthalpyJPerMol(REFERENCE_K) / 1e3)
                .as(species.name())
                .isCloseTo(formation, within(0.35));
        assertThat(species.entropyJPerMolK(REFERENCE_K)).as(species.name()).isCloseTo(entropy, within(0.1));
        assertThat(species.heatCapacityJPerMolK(REFERENCE_K)).as(species.name()).isCloseTo(heatCapacity, within(0.05));
    }

    /** A slip in one coefficient would break the joint at 1000 K or the two relations between the three functions. */
    @Test
    void theFunctionsOfEachGasBelongTogether() {
        for (Species each : Species.values()) {
            double step = each.enthalpyJPerMol(1000) - each.enthalpyJPerMol(Math.nextDown(1000.0));
            assertThat(step).as(each.name()).isCloseTo(0, within(10.0));
            assertThat(each.entropyJPerMolK(1000))
                    .as(each.name())
                    .isCloseTo(each.entropyJPerMolK(Math.nextDown(1000.0)), within(0.01));
            for (double kelvin : new double[] {300, 700, 1500, 3000}) {
                double capacity = each.heatCapacityJPerMolK(kelvin);
                double slope = each.enthalpyJPerMol(kelvin + 0.5) - each.enthalpyJPerMol(kelvin - 0.5);
                double entropySlope = each.entropyJPerMolK(kelvin + 0.5) - each.entropyJPerMolK(kelvin - 0.5);
                assertThat(slope).as(each.name()).isCloseTo(capacity, withinPercentage(1e-3));
                assertThat(entropySlope * kelvin).as(each.name()).isCloseTo(capacity, withinPercentage(1e-3));
            }
        }
    }

    private static double lowerJPerMol(Species fuel) {
        return fuel.enthalpyJPerMol(REFERENCE_K)
                - fuel.carbon() * Species.CARBON_DIOXIDE.enthalpyJPerMol(REFERENCE_K)
                - fuel.hydrogen() / 2.0 * Species.WATER.enthalpyJPerMol(REFERENCE_K);
    }

    private static Species species(String formula) {
        return Arrays.stream(Species.values())
                .filter(each -> each.formula().equals(formula))
                .findFirst()
                .orElseThrow();
    }
}
