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
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.daemon.testbed.RandomBurn;
import org.junit.jupiter.api.Test;

/**
 * Burns of two hundred virtual forges, whose equations are not those of the fit, with descriptions that are wrong by up to
 * 15 % and a gas flow known to 3 %: is the loss coefficient found, and does its interval hold the truth? The table of the run
 * is written to {@code target/fit-truth.csv}; one stands in {@code fixtures/burns/fit-truth.csv}.
 */
final class BurnFitTruthIT {
    private static final int BURNS = 200;
    private static final double KELVIN = 273.15;

    private record Row(long seed, double truth, double found, double low, double high, BurnFitResult fit) {
        boolean isNear() {
            return Math.abs(found / truth - 1) < 0.1;
        }

        boolean isCovered() {
            return low <= truth && truth <= high;
        }

        String text() {
            return String.format(
                    Locale.ROOT,
                    "%d,%d,%.3f,%.3f,%.3f,%.3f,%b,%b,%.2f",
                    seed,
                    fit.samples(),
                    truth,
                    found,
                    low,
                    high,
                    isNear(),
                    isCovered(),
                    fit.rmsResidualK());
        }
    }

    @Test
    void theLossCoefficientIsFoundAndItsIntervalHoldsTheTruth() throws IOException {
        List<Row> rows = LongStream.rangeClosed(1, BURNS)
                .parallel()
                .mapToObj(BurnFitTruthIT::row)
                .toList();
        List<String> lines = new ArrayList<>();
        lines.add("seed,samples,trueWPerK,foundWPerK,low95,high95,within10,covered,rmsResidualK");
        rows.forEach(row -> lines.add(row.text()));
        Files.write(Path.of("target", "fit-truth.csv"), lines);
        long near = rows.stream().filter(Row::isNear).count();
        long covered = rows.stream().filter(Row::isCovered).count();
        assertThat(near).as("of %s within 10 %%", BURNS).isGreaterThanOrEqualTo(BURNS * 90 / 100);
        assertThat(covered).as("of %s covered", BURNS).isBetween(BURNS * 90L / 100, BURNS * 98L / 100);
    }

    private static Row row(long seed) {
        RandomBurn burn = RandomBurn.of(seed);
        BurnFitResult fit = BurnFit.fit(burn.description(), recorder(burn).record(), 1000 + KELVIN);
        return new Row(
                seed,
                burn.truth().lossWPerK(1000),
                fit.loss().wattsPerK().value(),
                fit.loss().wattsPerK().low95(),
                fit.loss().wattsPerK().high95(),
                fit);
    }

    /** What a builder's instruments and notes tell. */
    private static BurnRecorder recorder(RandomBurn burn) {
        BurnRecorder recorder = new BurnRecorder();
        double[] timeS = burn.timeS();
        double[] chamberC = burn.chamberC();
        double[] gasPa = burn.gasPa();
        double[] ambientC = burn.ambientC();
        for (int i = 0; i < burn.size(); i++) {
            recorder.chamber(timeS[i], chamberC[i] + KELVIN);
            recorder.gas(timeS[i], gasPa[i]);
            recorder.ambient(timeS[i], ambientC[i] + KELVIN);
        }
        for (RandomBurn.Act act : burn.acts()) {
            switch (act.hand()) {
                case STOCK_IN -> recorder.stock(act.timeS(), true);
                case STOCK_OUT -> recorder.stock(act.timeS(), false);
                case PLUG_OUT -> recorder.plug(act.timeS(), false);
                case PLUG_IN -> recorder.plug(act.timeS(), true);
                case LIGHT, REGULATOR, GAS_OFF -> {
                    // The pressure tells.
                }
            }
        }
        return recorder;
    }
}
