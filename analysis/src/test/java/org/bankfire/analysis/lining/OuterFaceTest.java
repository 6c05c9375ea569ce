package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import org.bankfire.analysis.quantity.Constants;
import org.junit.jupiter.api.Test;

class OuterFaceTest {
    /**
     * Incropera, 6th ed., example 9.2 (from memory): a fire screen of 0.71 m at 232 °C in 23 °C has 7.0 W/(m² K) and gives
     * off 1060 W by convection. Two per cent: the properties of air are power laws here.
     */
    @Test
    void aFireScreenConvectsAsTheTextbookSays() throws IOException {
        JsonNode in = TextbookSlabTest.example("Incropera6 Ex9.2");
        double hotK = TextbookSlabTest.number(in, "Ts_C") + Constants.ZERO_CELSIUS_K;
        double coldK = TextbookSlabTest.number(in, "Tinf_C") + Constants.ZERO_CELSIUS_K;
        double heightM = TextbookSlabTest.number(in, "L");
        double areaM2 = heightM * TextbookSlabTest.number(in, "W");
        OuterFace face = new OuterFace(areaM2, heightM, 1);
        assertThat(face.convectionWPerM2K(hotK, coldK)).isCloseTo(7.0, withinPercentage(2));
        double radiated = areaM2 * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * (Math.pow(hotK, 4) - Math.pow(coldK, 4));
        assertThat(face.heatW(hotK, coldK) - radiated).isCloseTo(1060, withinPercentage(2));
    }

    /** Incropera, example 1.2 and section 1.2 (from memory): 5.67e-8 · 0.8 · (473⁴ − 298⁴) is 1913 W/m². */
    @Test
    void radiationIsThatOfAGreyFace() {
        OuterFace face = new OuterFace(1, 0.5, 0.8);
        OuterFace duller = new OuterFace(1, 0.5, 0.4);
        assertThat(2 * (face.heatW(473, 298) - duller.heatW(473, 298))).isCloseTo(1913, within(2.0));
    }

    @Test
    void aFaceAtAmbientTemperatureGivesNothingAndAColderOneTakes() {
        OuterFace face = new OuterFace(1, 0.5, 0.9);
        assertThat(face.heatW(300, 300)).isZero();
        assertThat(face.heatW(290, 300)).isNegative();
        assertThat(face.convectionWPerM2K(290, 300)).isPositive();
    }

    /** About: the step of the forge is implicit in it, and right with any slope. */
    @Test
    void theSlopeIsThatOfTheHeatWithinTenPerCent() {
        OuterFace face = new OuterFace(0.8, 0.4, 0.9);
        for (double kelvin : new double[] {305, 350, 500, 800}) {
            double slope = (face.heatW(kelvin + 0.5, 298) - face.heatW(kelvin - 0.5, 298)) / 1;
            assertThat(face.slopeWPerK(kelvin, 298)).as("%s K", kelvin).isCloseTo(slope, withinPercentage(10));
        }
    }

    @Test
    void aFaceThatCannotBeIsRefused() {
        assertThatThrownBy(() -> new OuterFace(1, 0.5, 1.1))
                .hasMessage("emissivity of the outer face is 1.1: allowed are 0.01 to 1.0");
        assertThatThrownBy(() -> new OuterFace(1, 0.5, Double.NaN)).hasMessageContaining("NaN");
        assertThatThrownBy(() -> new OuterFace(0, 0.5, 0.9)).hasMessageContaining("0.0 m²");
        assertThatThrownBy(() -> new OuterFace(1, Double.NaN, 0.9)).hasMessageContaining("NaN m height");
    }
}
