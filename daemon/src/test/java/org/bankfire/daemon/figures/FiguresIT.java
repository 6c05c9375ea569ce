package org.bankfire.daemon.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The parts of the measurement in a tiny form, for what they count: how fast they are is told by the command alone, on a
 * machine that does nothing else.
 */
final class FiguresIT {
    @TempDir
    private Path folder;

    @Test
    void fleetLosesNothingAndIsSeenFromOutside() throws Exception {
        // So long that a pause of some seconds leaves something to be measured.
        FleetFigure.Outcome outcome = FleetFigure.run(folder, new FleetFigure.Load(20, 10, 1, 7, List.of("-Xmx256m")));
        assertThat(outcome.sent()).isEqualTo(20 * 10 * 8);
        assertThat(outcome.stored()).isEqualTo(20 * 10 * 8 * 4);
        assertThat(outcome.lost()).isZero();
        assertThat(outcome.lag().count()).isBetween(20L, 20L * 10 * 8);
        assertThat(outcome.pageMs().count()).isPositive();
        assertThat(outcome.daemonTo().cpuS()).isGreaterThan(outcome.daemonFrom().cpuS());
        assertThat(outcome.daemonTo().peakMb())
                .isGreaterThanOrEqualTo(outcome.daemonTo().residentMb())
                .isGreaterThan(30);
        assertThat(FleetFigure.figures(outcome)).extracting(Figure::row).allMatch(row -> row.matches("\\|.*\\|"));
    }

    @Test
    void everyLineIsSeenOnThePageAfterTheFirstReadingIsStored() throws Exception {
        SingleForgeFigure.Outcome outcome = SingleForgeFigure.run(folder, 0, 1, 2, SingleForgeFigure.plain());
        assertThat(outcome.startS().count()).isEqualTo(1);
        assertThat(outcome.lines()).isPositive();
        assertThat(outcome.pageMs().count()).isEqualTo((int) outcome.lines());
        assertThat(outcome.pageMs().quantile(0)).isPositive();
    }

    @Test
    void messagesSerialLinesAndReadingsAreAllKeptByBothSides() throws Exception {
        // Each side counts what it kept and fails when something is missing.
        assertThat(MqttFigure.figures(folder, 400, 1)).hasSize(1);
        assertThat(SerialFigure.figures(folder, 400, 1)).hasSize(2);
        assertThat(StoreFigure.figures(folder, 4_000, 1)).hasSize(2);
        assertThat(DecodeFigure.figures(2, 1)).hasSize(1);
    }
}
