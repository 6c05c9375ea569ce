package org.bankfire.analysis.prediction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.prediction.CarryOver.Fate;
import org.junit.jupiter.api.Test;

/** What a burn has told, kept where the forge is as it was and given up where it is not. */
final class CarryOverTest {
    private static final Layer BRICK =
            new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076);
    private static final Layer BLANKET =
            new Layer(Materials.find("ceramic-fibre-blanket-1260").orElseThrow(), 0.076);

    private static ForgeDescription forge(double jetM, List<Layer> lining, double rearM, boolean plug) {
        return new ForgeDescription(
                "quarry",
                "Quarry",
                1423.15,
                293.15,
                0,
                new Burner(Fuel.PROPANE, jetM, 0.018, 0.85, 0.05),
                0.2,
                0.16,
                0.23,
                12,
                lining,
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", rearM, 0.08, plug)));
    }

    private static final ForgeDescription TODAY = forge(8e-4, List.of(BRICK), 0.076, true);

    /** A forge that a burn has told to be a tenth off in everything, to a hundredth. */
    private static KnownForge fitted() {
        List<ForgeParameters> all = new ArrayList<>();
        for (int i = -2; i <= 2; i++) {
            double[] values = ForgeParameters.of(TODAY).inOrder();
            for (int j = 0; j < values.length; j++) {
                values[j] *= 1.1 + 0.005 * i;
            }
            all.add(ForgeParameters.ofOrder(values));
        }
        return new KnownForge(TODAY, all.get(2), all, KnownForge.Basis.FITTED);
    }

    private static Fate fate(CarryOver over, String name) {
        return over.learnt().stream()
                .filter(each -> each.name().equals(name))
                .findFirst()
                .orElseThrow()
                .fate();
    }

    private static double changed(CarryOver over, String name) {
        return over.learnt().stream()
                .filter(each -> each.name().equals(name))
                .findFirst()
                .orElseThrow()
                .changed();
    }

    private static double spread(CarryOver over, ToDoubleFunction<ForgeParameters> of) {
        DoubleSummaryStatistics all =
                over.forge().members().stream().mapToDouble(of).summaryStatistics();
        return all.getMax() - all.getMin();
    }

    @Test
    void withoutAChangeEverythingIsKeptToTheLastDigit() {
        KnownForge known = fitted();
        CarryOver over = CarryOver.of(known, TODAY);
        assertThat(over.forge()).isEqualTo(known);
        assertThat(over.learnt()).hasSize(ForgeParameters.COUNT).allMatch(each -> each.fate() == Fate.KEPT);
    }

    @Test
    void aThickerLayerOfTheSameMaterialKeepsItsConductivity() {
        Layer thicker = new Layer(BRICK.material(), 0.114);
        CarryOver over = CarryOver.of(fitted(), forge(8e-4, List.of(thicker), 0.076, true));
        assertThat(fate(over, "liningConductivityScale")).isEqualTo(Fate.KEPT);
        assertThat(changed(over, "liningConductivityScale")).isCloseTo(1.1, within(1e-12));
    }

    @Test
    void aLiningOfOtherMaterialsIsKnownFromItsDescriptionOnly() {
        for (List<Layer> lining : List.of(List.of(BRICK, BLANKET), List.of(BLANKET))) {
            CarryOver over = CarryOver.of(fitted(), forge(8e-4, lining, 0.076, true));
            for (String name : List.of("liningConductivityScale", "liningCapacityScale")) {
                assertThat(fate(over, name)).isEqualTo(Fate.RESET);
                assertThat(changed(over, name)).isCloseTo(1, within(1e-12));
            }
            assertThat(fate(over, "heatReleaseFactor")).isEqualTo(Fate.KEPT);
            assertThat(over.forge().parameters().heatRelease()).isCloseTo(1.1, within(1e-12));
            assertThat(spread(over, ForgeParameters::conductivity)).isGreaterThan(0.1);
        }
    }

    @Test
    void anotherJetIsAsDescribedAndItsAirTheBestGuess() {
        CarryOver over = CarryOver.of(fitted(), forge(9e-4, List.of(BRICK), 0.076, true));
        assertThat(fate(over, "heatReleaseFactor")).isEqualTo(Fate.RESET);
        assertThat(over.forge().parameters().heatRelease()).isCloseTo(1, within(1e-12));
        assertThat(fate(over, "mixture")).isEqualTo(Fate.LESS_SURE);
        assertThat(changed(over, "mixture")).isCloseTo(1.1, within(1e-12));
        // A hundredth either way as the burn told; a twelfth as is believed of any burner.
        assertThat(spread(
                        over,
                        member -> member.mixture() / over.forge().parameters().mixture()))
                .isGreaterThan(0.1);
        assertThat(fate(over, "liningConductivityScale")).isEqualTo(Fate.KEPT);
    }

    @Test
    void anOpenedPlugIsAnOpeningThatNoBurnHasTold() {
        CarryOver over = CarryOver.of(fitted(), forge(8e-4, List.of(BRICK), 0.076, false));
        double share = 0.076 * 0.08 / (0.076 * 0.08 + 0.09 * 0.11);
        assertThat(fate(over, "effectiveOpeningArea")).isEqualTo(Fate.PARTLY_NEW);
        assertThat(changed(over, "effectiveOpeningArea")).isCloseTo(Math.pow(1.1, 1 - share), within(1e-12));
    }

    @Test
    void whatNoBurnHasToldIsAsThoughTheChangedForgeHadBeenDescribed() {
        ForgeDescription larger = forge(9e-4, List.of(BRICK), 0.076, true);
        CarryOver over = CarryOver.of(KnownForge.described(TODAY, 40), larger);
        assertThat(over.forge()).isEqualTo(KnownForge.described(larger, 40));
        assertThat(over.learnt()).isEmpty();
    }
}
