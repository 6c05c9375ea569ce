package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

final class EventWriterTest {
    private static final WallTime TIME = new WallTime(1_772_359_212_250_000L);

    private final StringBuilder out = new StringBuilder();
    private final EventWriter events = new EventWriter(out);

    @Test
    void alarmTransitionHasTheKeysThatScriptsRelyOn() {
        events.write(new AlarmTransition(
                "shed", TIME, AlarmId.FLAME_OUT, AlarmState.UNACKNOWLEDGED, Priority.CRITICAL, 1103.2, "fell 40 K"));

        assertThat(out)
                .hasToString("{\"time\":\"2026-03-01T10:00:12.250Z\",\"t\":1772359212.25,\"forge\":\"shed\","
                        + "\"kind\":\"alarm\",\"alarm\":\"flame-out\",\"state\":\"unacknowledged\","
                        + "\"priority\":\"critical\",\"value\":1103.2,\"why\":\"fell 40 K\"}\n");
    }

    @Test
    void valueThatIsNotKnownIsNull() {
        events.write(new SourceEvent("shed", TIME, SourceEvent.Kind.RESTARTED, Double.NaN, "began again at 0"));

        assertThat(out.toString()).contains("\"kind\":\"source\",\"state\":\"restarted\",\"value\":null");
    }

    @Test
    void burnBoundaryNamesItsBurnAndStage() {
        events.write(new BurnBoundary(
                "shed", "shed-20260301T100012Z", TIME, BurnBoundary.Stage.LIT, 85.12345, "temperature rises"));

        assertThat(out.toString())
                .contains("\"kind\":\"burn\",\"burn\":\"shed-20260301T100012Z\",\"state\":\"lit\",\"value\":85.123");
    }

    @Test
    void wholeSecondsKeepNoFraction() {
        events.write(
                new SourceEvent("shed", new WallTime(1_772_359_212_000_000L), SourceEvent.Kind.LINES_LOST, 3, "x"));

        assertThat(out.toString()).contains("\"t\":1772359212,");
    }
}
