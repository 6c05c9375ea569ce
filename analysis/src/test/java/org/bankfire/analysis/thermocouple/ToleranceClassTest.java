package org.bankfire.analysis.thermocouple;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.Fixtures.number;
import static org.bankfire.analysis.Fixtures.text;

import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.junit.jupiter.api.Test;

class ToleranceClassTest {
    @Test
    void everyRowOfTheStandardsHoldsOverItsRange() {
        for (Map<String, String> row : Fixtures.rows("thermocouple/tolerance_classes_type_K.csv")) {
            ToleranceClass toleranceClass = named(text(row, "standard"), text(row, "class"));
            double min = number(row, "T_min_C");
            double max = number(row, "T_max_C");
            for (int i = 0; i <= 100; i++) {
                double celsius = min + (max - min) * i / 100;
                double expected = Math.max(number(row, "tol_abs_C"), number(row, "tol_frac") * Math.abs(celsius));
                assertThat(toleranceClass.toleranceK(celsius))
                        .as("%s at %s °C", toleranceClass, celsius)
                        .isCloseTo(expected, within(1e-12));
            }
        }
    }

    @Test
    void aClassSaysNothingOutsideItsRange() {
        assertThat(ToleranceClass.IEC_1.toleranceK(1000.1)).isNaN();
        assertThat(ToleranceClass.IEC_2.toleranceK(1200.1)).isNaN();
        assertThat(ToleranceClass.IEC_2.toleranceK(-40.1)).isNaN();
        assertThat(ToleranceClass.IEC_3.toleranceK(40.1)).isNaN();
        assertThat(ToleranceClass.ASTM_SPECIAL.toleranceK(-0.1)).isNaN();
        assertThat(ToleranceClass.ASTM_STANDARD.toleranceK(1260.1)).isNaN();
        assertThat(ToleranceClass.ASTM_STANDARD.toleranceK(Double.NaN)).isNaN();
    }

    /** 0.75 % of 1150 °C is 8.625 K; over √3 (GUM 4.3.7) that is 4.980 K. */
    @Test
    void theStandardUncertaintyIsTheToleranceOverTheRootOfThree() {
        assertThat(ToleranceClass.ASTM_STANDARD.standardUncertaintyK(1150)).isCloseTo(4.980, within(0.001));
    }

    @Test
    void theRuleIsCarriedOnWhereTheClassEnds() {
        assertThat(ToleranceClass.IEC_1.covers(1150)).isFalse();
        assertThat(ToleranceClass.IEC_1.standardUncertaintyK(1150)).isCloseTo(4.6 / Math.sqrt(3), within(1e-12));
    }

    private static ToleranceClass named(String standard, String name) {
        if (standard.startsWith("IEC")) {
            return ToleranceClass.valueOf("IEC_" + name);
        }
        return name.equals("special") ? ToleranceClass.ASTM_SPECIAL : ToleranceClass.ASTM_STANDARD;
    }
}
