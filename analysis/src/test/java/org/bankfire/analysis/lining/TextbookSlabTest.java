package org.bankfire.analysis.lining;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import org.bankfire.analysis.lining.Slab.Face;
import org.bankfire.analysis.quantity.Constants;
import org.junit.jupiter.api.Test;

/**
 * Worked examples of textbooks, answers from memory unless said otherwise. Where an example's metal conducts better than a
 * lining may, or its body is thinner than a layer may be, all of heat capacity, conductivity and exchange are scaled: the
 * temperatures stay the same.
 */
class TextbookSlabTest {
    private static final double ZERO_K = Constants.ZERO_CELSIUS_K;

    /** Incropera, 6th ed., example 5.1: 5.2 s; its closed form gives 5.165 s. Steps of 5 ms, Biot number 0.004. */
    @Test
    void aThermocoupleBeadIsWithinAKelvinAfterFiveTimeConstants() throws IOException {
        JsonNode in = example("Incropera6 Ex5.1");
        // 400 J/(m² K), as a bead of 0.706 mm has.
        Slab bead = Slab.flat(List.of(Slab.layer(1e-3, 1000, 400, 50)), 0.25e-3, 1, number(in, "Ti_C"))
                .faces(
                        Face.convection(number(in, "h") / 2, number(in, "Tinf_C")),
                        Face.convection(number(in, "h") / 2, number(in, "Tinf_C")));
        assertThat(secondsUntil(bead, 199, 5e-3)).isCloseTo(5.165, within(0.02));
    }

    /** Incropera, 6th ed., example 5.2: steady at 218.7 °C, 4.9 s until a kelvin below (solved anew: 4.99 s). */
    @Test
    void aBeadBetweenGasAndHotWallsSettlesBetweenThem() throws IOException {
        JsonNode in = example("Incropera6 Ex5.2");
        double coefficient = number(in, "h") / 2;
        Face face = new Face(coefficient, 200 + ZERO_K, 0.9 / 2, 400 + ZERO_K, 0);
        Slab bead = Slab.flat(List.of(Slab.layer(1e-3, 1000, 400, 50)), 0.25e-3, 1, 25 + ZERO_K)
                .faces(face, face);
        assertThat(secondsUntil(bead, 217.7 + ZERO_K, 5e-3)).isCloseTo(4.95, within(0.06));
        assertThat(bead.settle().frontK() - ZERO_K).isCloseTo(218.7, within(0.05));
    }

    /** Incropera, 6th ed., example 5.3: 124 s to 150 °C, 175 °C at 424 s, 989 s in all (solved anew: 123.1, 174.75, 986.3). */
    @Test
    void aPanelIsCuredAndCooledByConvectionAndRadiation() {
        Slab panel = Slab.flat(List.of(Slab.layer(3e-3, 2770, 875, 50)), 0.75e-3, 1, 25 + ZERO_K);
        Face oven = new Face(40, 175 + ZERO_K, 0.8, 175 + ZERO_K, 0);
        Face room = new Face(10, 25 + ZERO_K, 0.8, 25 + ZERO_K, 0);
        panel.faces(oven, oven);
        double cureS = secondsUntil(panel, 150 + ZERO_K, 0.25);
        assertThat(cureS).isCloseTo(123.5, within(1.0));
        panel.run(300, 0.25);
        assertThat(panel.frontK() - ZERO_K).isCloseTo(174.75, within(0.3));
        panel.faces(room, room);
        assertThat(cureS + 300 + secondsUntil(panel, 37 + ZERO_K, 0.25)).isCloseTo(987.5, within(3.0));
    }

    /** Incropera, 6th ed., example 5.4, one-term plane wall; the book's table is read to three digits: 42.9 and 45.2 °C. */
    @Test
    void aPipeWallWarmsAsTheOneTermSolutionSays() {
        Slab wall = Slab.flat(List.of(Slab.layer(0.04, 7832.0 / 2, 434, 63.9 / 2)), 0.5e-3, 1, -20 + ZERO_K)
                .faces(Face.convection(250, 60 + ZERO_K), Face.INSULATED);
        wall.run(480, 0.25);
        assertThat(wall.backK() - ZERO_K).isCloseTo(42.9, within(0.2));
        assertThat(wall.frontK() - ZERO_K).isCloseTo(45.2, within(0.2));
        // The closed form with a first root of five digits.
        assertThat(wall.backK() - ZERO_K).isCloseTo(43.02, within(0.02));
        assertThat(wall.frontK() - ZERO_K).isCloseTo(45.36, within(0.02));
        assertThat(2 * wall.tallyJ(Slab.FRONT_J) * Math.PI).isCloseTo(2.73e7, within(0.02e7));
    }

    /** Incropera, 6th ed., example 5.6: 0 °C at 0.68 m after 60 days, where the gradient is 32 K/m. Six layers are 6 m of soil. */
    @Test
    void frostGoesAsDeepIntoTheSoilAsTheTextbookSays() {
        Slab soil = Slab.flat(Collections.nCopies(6, Slab.layer(1, 2050, 1840, 0.52)), 0.01, 1.05, 20 + ZERO_K)
                .faces(Face.fixed(-15 + ZERO_K), Face.INSULATED);
        soil.run(60 * 86_400.0, 3600);
        assertThat(soil.atK(0.6766) - ZERO_K).isCloseTo(0, within(0.05));
        assertThat(soil.atK(0.68) - ZERO_K).isCloseTo(0, within(0.2));
    }

    /** Holman, Heat Transfer, example 4-2: 118.5 and 79.3 °C, the closed forms with tables of the error function. */
    @Test
    void aThickSteelSlabFollowsTheErrorFunction() {
        Layer steel = Slab.layer(0.5, 45 / 1.4e-5 / 1000, 1000, 45);
        Slab stepped = Slab.flat(List.of(steel), 0.5e-3, 1.01, 35).faces(Face.fixed(250), Face.INSULATED);
        assertThat(stepped.run(30, 0.01).atK(0.025)).isCloseTo(118.5, within(0.1));
        Slab heated = Slab.flat(List.of(steel), 0.5e-3, 1.01, 35).faces(Face.flux(3.2e5), Face.INSULATED);
        assertThat(heated.run(30, 0.01).atK(0.025)).isCloseTo(79.3, within(0.1));
    }

    /** Documentation of pychemengg, transient conduction, examples 4, 5 and 1 (published there); printed to its last digit. */
    @Test
    void clayBrickAndPlateFollowTheirClosedForms() {
        Slab clay = Slab.flat(List.of(Slab.layer(0.5, 2115, 920, 0.062)), 0.2e-3, 1.02, 55 + ZERO_K)
                .faces(Face.fixed(25 + ZERO_K), Face.INSULATED);
        clay.run(3600, 1);
        assertThat(clay.atK(0.03) - ZERO_K).isCloseTo(53.6, within(0.05));
        assertThat(clay.throughW()).isCloseTo(-98, within(0.5));
        Slab brick = Slab.flat(List.of(Slab.layer(1, 1 / 5.08e-7 / 1000, 1000, 1)), 1e-3, 1.02, 15 + ZERO_K)
                .faces(Face.flux(2e4), Face.INSULATED);
        assertThat(brick.run(3600, 1).atK(0.01) - ZERO_K).isCloseTo(793, within(0.5));
        // 180 W/(m K): a quarter of everything. The plate is not quite of one temperature (Biot number 0.006).
        Slab plate = Slab.flat(List.of(Slab.layer(0.005, 700, 880, 45)), 0.5e-3, 1, 20 + ZERO_K)
                .faces(Face.convection(50, 800 + ZERO_K), Face.INSULATED);
        assertThat(plate.run(120, 0.5).frontK() - ZERO_K).isCloseTo(689, within(1.0));
    }

    /** Incropera, 6th ed., equation 5.18 (as in Heat Transfer Handbook, eq. 3.283): closed form of cooling by radiation alone. */
    @Test
    void aHotSheetCoolsByRadiationAsTheClosedFormSays() {
        Slab sheet = Slab.flat(List.of(Slab.layer(1e-3, 5000, 3925, 50)), 0.25e-3, 1, 1400)
                .faces(new Face(0, 300, 0.8, 300, 0), Face.INSULATED);
        sheet.run(3000, 0.5);
        assertThat(sheet.frontK()).isCloseTo(385.107, within(0.05));
        Slab anew = Slab.flat(List.of(Slab.layer(1e-3, 5000, 3925, 50)), 0.25e-3, 1, 1400)
                .faces(new Face(0, 300, 0.8, 300, 0), Face.INSULATED);
        anew.run(60, 0.5);
        assertThat(closedFormS(19_625, 0.8, 1400, 300, anew.storedJ() / 19_625)).isCloseTo(60, within(0.5));
    }

    private static double closedFormS(double perM2K, double emissivity, double startK, double aroundK, double kelvin) {
        double logarithm =
                Math.log((aroundK + kelvin) / (kelvin - aroundK)) - Math.log((aroundK + startK) / (startK - aroundK));
        double arcs = 2 * (Math.atan(kelvin / aroundK) - Math.atan(startK / aroundK));
        return perM2K
                / (4 * emissivity * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * Math.pow(aroundK, 3))
                * (logarithm + arcs);
    }

    /** Time until the middle node passes a temperature, straight within a step. */
    private static double secondsUntil(Slab slab, double kelvin, double stepS) {
        int middle = slab.nodes() / 2;
        double beforeK = slab.nodeK(middle);
        double direction = Math.signum(kelvin - beforeK);
        for (int n = 0; n < 100_000; n++) {
            slab.step(stepS);
            double nowK = slab.nodeK(middle);
            if ((kelvin - nowK) * direction <= 0) {
                return (n + (kelvin - beforeK) / (nowK - beforeK)) * stepS;
            }
            beforeK = nowK;
        }
        throw new AssertionError(kelvin + " K is never reached");
    }

    static JsonNode example(String id) throws IOException {
        Path file = Path.of(
                requireNonNull(System.getProperty("bankfire.fixtures")), "heat-conduction", "worked_examples.json");
        for (JsonNode each : new ObjectMapper().readTree(file.toFile()).get("examples")) {
            if (each.get("id").asText().startsWith(id)) {
                return each.get("inputs");
            }
        }
        throw new AssertionError("no example " + id);
    }

    static double number(JsonNode inputs, String name) {
        return inputs.get(name).doubleValue();
    }
}
