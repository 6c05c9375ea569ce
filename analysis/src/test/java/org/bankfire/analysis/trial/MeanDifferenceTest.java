package org.bankfire.analysis.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.trial.MeanDifference.Part;
import org.junit.jupiter.api.Test;

/** Two samples of fifteen, held to what SciPy's {@code stats.ttest_ind} (1.11 and later) makes of them. */
final class MeanDifferenceTest {
    private static final double[] A = {
        27.5, 21.0, 19.0, 23.6, 17.0, 17.9, 16.9, 20.1, 21.9, 22.6, 23.1, 19.6, 19.0, 21.7, 21.4
    };
    private static final double[] B = {
        27.1, 22.0, 20.8, 23.4, 23.4, 23.5, 25.8, 22.0, 24.8, 20.2, 21.9, 22.1, 22.9, 30.5, 26.0
    };

    private static List<BurnScatter.Value> values(double[] of) {
        List<BurnScatter.Value> values = new ArrayList<>();
        for (double value : of) {
            values.add(new BurnScatter.Value(value, 0));
        }
        return values;
    }

    @Test
    void manyRepeatsOfBothAreJudgedByWelchsTest() {
        List<BurnScatter.Value> a = values(A);
        List<BurnScatter.Value> b = values(B);
        BurnScatter scatter = BurnScatter.of(TrialFigure.STEADY_TEMPERATURE, List.of(a, b));
        MeanDifference difference = MeanDifference.of(BurnScatter.mean(b) - BurnScatter.mean(a), scatter.parts(a, b));
        assertThat(scatter.sourceOf(a, b)).isEqualTo(ScatterSource.WELCH);
        assertThat(difference.degreesOfFreedom()).isCloseTo(27.956194062751052, within(1e-9));
        assertThat(difference.value() / difference.error()).isCloseTo(2.9267895748870942, within(1e-9));
        assertThat(difference.p()).isCloseTo(0.006733229183143149, within(1e-9));
        assertThat(difference.value() - difference.halfWidth(0.95)).isCloseTo(0.8822018534217526, within(1e-7));
        assertThat(difference.value() + difference.halfWidth(0.95)).isCloseTo(4.9977981465782495, within(1e-7));
    }

    @Test
    void thePooledScatterOfAllIsThatOfStudentsTest() {
        BurnScatter pooled = BurnScatter.of(TrialFigure.STEADY_TEMPERATURE, List.of(values(A), values(B)));
        assertThat(pooled.source()).isEqualTo(ScatterSource.POOLED);
        MeanDifference difference =
                MeanDifference.of(2.94, new Part(pooled.variance() * 2 / 15, pooled.degreesOfFreedom()));
        assertThat(difference.degreesOfFreedom()).isCloseTo(28, within(1e-9));
        assertThat(difference.p()).isCloseTo(0.006727223826948412, within(1e-9));
    }

    @Test
    void withoutRepeatsTheUsualScatterCountsAndWithFewBoth() {
        TrialFigure figure = TrialFigure.TIME_TO_TARGET;
        double usual = figure.usualScatter() * figure.usualScatter();
        List<BurnScatter.Value> one = List.of(new BurnScatter.Value(7, 0.01));
        BurnScatter alone = BurnScatter.of(figure, List.of(one, one));
        assertThat(alone.source()).isEqualTo(ScatterSource.USUAL);
        assertThat(alone.variance()).isCloseTo(usual + 1e-4, within(1e-12));
        List<BurnScatter.Value> two = List.of(new BurnScatter.Value(7, 0.01), new BurnScatter.Value(7.04, 0.01));
        BurnScatter mixed = BurnScatter.of(figure, List.of(one, two));
        assertThat(mixed.source()).isEqualTo(ScatterSource.MIXED);
        assertThat(mixed.degreesOfFreedom()).isEqualTo(5);
        assertThat(mixed.variance()).isCloseTo((4 * (usual + 1e-4) + 8e-4) / 5, within(1e-12));
    }

    @Test
    void noScatterIsLessThanThatOfTheInstruments() {
        List<BurnScatter.Value> same = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            same.add(new BurnScatter.Value(7, 0.02));
        }
        assertThat(BurnScatter.of(TrialFigure.TIME_TO_TARGET, List.of(same)).variance())
                .isCloseTo(4e-4, within(1e-12));
    }
}
