package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.LongStream;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.trial.TrialBurn;
import org.bankfire.analysis.trial.TrialComparison;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.analysis.trial.Verdict;
import org.bankfire.daemon.testbed.RepeatedBurns;
import org.junit.jupiter.api.Test;

/**
 * Three burns before and three after a change, of a hundred virtual forges whose equations are not those of the model, with
 * descriptions that are wrong by up to 15 %: is a change that truly takes 5 % of the time to target away called real, and a
 * change of nothing not? One burn of the six has a fit, as long as its heat-up. The table of the run is written to
 * {@code target/trial-truth.csv}; one stands in {@code fixtures/burns/trial-truth.csv}. Constants were chosen on seeds
 * from 5000 on.
 */
final class TrialTruthIT {
    private static final int FORGES = 100;
    /** Burns of each setting. */
    private static final int BURNS = 3;

    private static final double SHARE = 0.05;

    private record Row(long seed, RepeatedBurns burns, TrialComparison changed, TrialComparison unchanged) {
        static boolean isCalled(TrialComparison comparison) {
            return comparison.verdict() == Verdict.REAL;
        }

        /** Whether the change is called real, and better. */
        boolean isFound() {
            return isCalled(changed) && first(changed).value() < 0;
        }

        /** Whether anything at all is called real though nothing was changed. */
        boolean isFalse() {
            return unchanged.differences().stream().anyMatch(each -> each.verdict() == Verdict.REAL);
        }

        boolean isCovered() {
            double truth = -100 * burns.trueShare();
            return first(changed).low95() <= truth && truth <= first(changed).high95();
        }

        static Difference first(TrialComparison comparison) {
            return comparison.differences().get(0);
        }

        String text() {
            return String.format(
                    Locale.ROOT,
                    "%d,%.0f,%.2f,%.2f,%.2f,%.2f,%s,%.2f,%.2f,%.2f,%s",
                    seed,
                    burns.trueTimeS(),
                    -100 * burns.trueShare(),
                    first(changed).value(),
                    first(changed).low95(),
                    first(changed).high95(),
                    changed.verdict().code(),
                    first(unchanged).value(),
                    first(unchanged).low95(),
                    first(unchanged).high95(),
                    unchanged.verdict().code());
        }
    }

    @Test
    void aTrueTwentiethIsCalledRealAndNothingIsNot() throws IOException {
        List<Row> rows = LongStream.rangeClosed(1, FORGES)
                .parallel()
                .mapToObj(TrialTruthIT::row)
                .toList();
        List<String> lines = new ArrayList<>();
        lines.add(
                "seed,trueTimeToTargetS,truePercent,foundPercent,low95,high95,verdict,unchangedPercent,unchangedLow95,"
                        + "unchangedHigh95,unchangedVerdict");
        rows.forEach(row -> lines.add(row.text()));
        Files.write(Path.of("target", "trial-truth.csv"), lines);
        assertThat(rows).allSatisfy(row -> assertThat(row.burns().trueShare()).isBetween(0.045, 0.055));
        assertThat(rows.stream().filter(Row::isFound).count())
                .as("true changes called real, of %s", FORGES)
                .isGreaterThanOrEqualTo(FORGES * 80 / 100);
        assertThat(rows.stream().filter(Row::isFalse).count())
                .as("changes of nothing called real in any figure, of %s", FORGES)
                .isLessThanOrEqualTo(FORGES * 5 / 100);
        assertThat(rows.stream().filter(Row::isCovered).count())
                .as("intervals that hold the truth, of %s", FORGES)
                .isGreaterThanOrEqualTo(FORGES * 90 / 100);
    }

    private static Row row(long seed) {
        RepeatedBurns burns = RepeatedBurns.of(seed, SHARE);
        BurnFitResult fit =
                BurnFit.fit(burns.description(), burns.readings(false, 0).record(), BurnFit.USUAL_LOSS_AT_K);
        KnownForge known = fit.converged() ? fit.known() : null;
        List<TrialBurn> before = new ArrayList<>();
        for (int number = 0; number < BURNS; number++) {
            before.add(burns.burn(RepeatedBurns.Label.BEFORE, number, number == 0 ? known : null));
        }
        return new Row(
                seed,
                burns,
                comparison(burns, before, RepeatedBurns.Label.CHANGED),
                comparison(burns, before, RepeatedBurns.Label.UNCHANGED));
    }

    private static TrialComparison comparison(RepeatedBurns burns, List<TrialBurn> before, RepeatedBurns.Label after) {
        List<TrialBurn> all = new ArrayList<>(before);
        for (int number = BURNS; number < 2 * BURNS; number++) {
            all.add(burns.burn(after, number, null));
        }
        return TrialSeries.of(burns.description(), all, List.of()).comparisons().get(0);
    }
}
