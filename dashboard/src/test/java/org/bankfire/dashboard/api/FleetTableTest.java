package org.bankfire.dashboard.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.zip.GZIPInputStream;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is told of many forges, and that nothing is told twice. */
class FleetTableTest {
    private final ScriptedForge forge = new ScriptedForge().add(ScriptedForge.LOFT, "Loft forge");
    private FleetTable table;
    private long nowNanos = 5;

    @BeforeEach
    void begin() {
        table = new FleetTable(forge, "run");
    }

    private JsonNode ask(String since) throws IOException {
        return new ObjectMapper().readTree(table.since(since, nowNanos).plain());
    }

    /** The next second's answer to one that has the last. */
    private JsonNode next(JsonNode last) throws IOException {
        nowNanos += FleetTable.LOOK_NANOS;
        return ask(last.get("at").textValue());
    }

    private static List<String> told(JsonNode answer) {
        List<String> ids = new ArrayList<>();
        answer.get("rows").forEach(row -> ids.add(row.get("forge").textValue()));
        return ids;
    }

    private JsonNode row(String id) throws IOException {
        nowNanos += FleetTable.LOOK_NANOS;
        for (JsonNode row : ask("").get("rows")) {
            if (row.get("forge").textValue().equals(id)) {
                return row;
            }
        }
        throw new AssertionError("no row of " + id);
    }

    @Test
    void allIsToldFirstAndThenOnlyWhatDiffers() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_000);
        JsonNode first = ask("");
        assertThat(told(first)).containsExactly("quarry", "loft");
        assertThat(first.get("all").booleanValue()).isTrue();
        assertThat(first.get("forges").intValue()).isEqualTo(2);
        JsonNode second = next(first);
        assertThat(told(second)).isEmpty();
        assertThat(second.get("all").booleanValue()).isFalse();
        forge.burning(ScriptedForge.QUARRY, 1_020);
        JsonNode third = next(second);
        assertThat(told(third)).containsExactly("quarry");
        assertThat(third.at("/rows/0/chamberC").intValue()).isEqualTo(1_020);
        // One who missed an answer gets what it lacks.
        assertThat(told(ask(first.get("at").textValue()))).containsExactly("quarry");
    }

    @Test
    void withinASecondTheAnswerStaysAndItsBytesAreShared() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_000);
        JsonNode first = ask("");
        forge.burning(ScriptedForge.QUARRY, 1_100);
        nowNanos += FleetTable.LOOK_NANOS - 1;
        assertThat(table.since("", nowNanos)).isSameAs(table.since("", nowNanos));
        assertThat(ask("").at("/rows/0/chamberC").intValue()).isEqualTo(1_000);
        assertThat(next(first).at("/rows/0/chamberC").intValue()).isEqualTo(1_100);
    }

    @ParameterizedTest
    @CsvSource({"other.1", "run.", "run.x", "run.-1", "run.99", "run.99999999999999999999"})
    void whoNamesNoLookOfThisRunGetsAll(String since) throws Exception {
        ask("");
        assertThat(ask(since).get("all").booleanValue()).isTrue();
        assertThat(told(ask(since))).hasSize(2);
    }

    @Test
    void aForgeThatIsNewIsToldToThoseWhoHaveTheOthers() throws Exception {
        JsonNode first = ask("");
        forge.add("shed", "Shed forge");
        JsonNode second = next(first);
        assertThat(second.get("all").booleanValue()).isTrue();
        assertThat(told(second)).containsExactly("quarry", "loft", "shed");
    }

    @Test
    void aTemperatureThatWobblesOnAnEdgeChangesNothingAndOneThatCreepsIsFollowed() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_000.4);
        JsonNode answer = ask("");
        for (double celsius : new double[] {1_000.6, 1_000.4, 1_000.7, 999.3}) {
            forge.burning(ScriptedForge.QUARRY, celsius);
            answer = next(answer);
            assertThat(told(answer)).as("%s", celsius).isEmpty();
        }
        forge.burning(ScriptedForge.QUARRY, 1_000.8);
        answer = next(answer);
        assertThat(answer.at("/rows/0/chamberC").intValue()).isEqualTo(1_001);
    }

    @Test
    void aLongAnswerIsCompressedOnce() throws Exception {
        for (int i = 0; i < 100; i++) {
            forge.add("forge-" + i, "Forge " + i);
        }
        FleetTable.Answer answer = table.since("", nowNanos);
        byte[] compressed = Objects.requireNonNull(answer.compressed());
        assertThat(new GZIPInputStream(new ByteArrayInputStream(compressed)).readAllBytes())
                .isEqualTo(answer.plain());
        assertThat(compressed.length).isLessThan(answer.plain().length / 5);
    }

    @Test
    void whatIsNotHeardOfIsNever() throws Exception {
        assertThat(row("loft").get("attention").textValue()).isEqualTo("never");
        assertThat(row("loft").has("chamberC")).isFalse();
        assertThat(row("loft").has("phase")).isFalse();
    }

    @Test
    void aReadingTellsItsTimeOnlyOnceItIsTooOld() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_000);
        assertThat(row("quarry").has("silentSinceT")).isFalse();
        assertThat(row("quarry").get("attention").textValue()).isEqualTo("none");
        forge.publish(ScriptedForge.aged(forge.burning(ScriptedForge.QUARRY, 1_000), 40));
        JsonNode silent = row("quarry");
        assertThat(silent.get("attention").textValue()).isEqualTo("silent");
        assertThat(forge.now().epochSeconds() - silent.get("silentSinceT").doubleValue())
                .isBetween(39.0, 100.0);
    }

    @ParameterizedTest
    @CsvSource({
        "CRITICAL, UNACKNOWLEDGED, critical",
        "CRITICAL, LATCHED_UNACKNOWLEDGED, critical",
        "CRITICAL, ACKNOWLEDGED, standing",
        "HIGH, UNACKNOWLEDGED, calls",
        "LOW, RETURNED_UNACKNOWLEDGED, calls",
        "HIGH, ACKNOWLEDGED, none",
        "HIGH, SHELVED, none",
        "LOW, OUT_OF_SERVICE, none",
    })
    void whatAnAlarmAsksFor(Priority priority, AlarmState state, String attention) throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_000, forge.alarm(AlarmId.CHAMBER_HIGH, state, priority, 1_000, "Hot."));
        JsonNode row = row("quarry");
        assertThat(row.get("attention").textValue()).isEqualTo(attention);
        assertThat(row.at("/alarm/title").textValue()).isEqualTo(AlarmId.CHAMBER_HIGH.title());
        assertThat(row.at("/alarm/state").textValue()).isEqualTo(state.code());
    }

    @Test
    void anAlarmThatCallsStandsForAGraverOneThatIsShelved() throws Exception {
        AlarmStatus shelved =
                forge.alarm(AlarmId.CHAMBER_HIGH, AlarmState.SHELVED, Priority.HIGH, 1_250, "On the shelf.");
        AlarmStatus calls =
                forge.alarm(AlarmId.GAS_FALLING, AlarmState.UNACKNOWLEDGED, Priority.MEDIUM, 0.4e5, "It sags.");
        forge.burning(ScriptedForge.QUARRY, 1_000, shelved, calls);
        assertThat(row("quarry").at("/alarm/alarm").textValue()).isEqualTo("gas-falling");
        assertThat(row("quarry").get("alarms").intValue()).isEqualTo(2);
    }

    @Test
    void aFlameThatIsOutWithoutAnAlarmYetIsInDoubt() throws Exception {
        forge.publish(forge.snapshot(
                ScriptedForge.QUARRY, 900, Quality.GOOD, BurnPhase.COOLING, FlameState.OUT, List.of(), List.of()));
        assertThat(row("quarry").get("attention").textValue()).isEqualTo("flame");
    }

    @Test
    void aForgeThatIsNotWatchedSaysSoWhateverWasDoneAboutItsAlarm() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_000);
        forge.unwatch(ScriptedForge.QUARRY);
        JsonNode calling = row("quarry");
        assertThat(calling.get("attention").textValue()).isEqualTo("critical");
        assertThat(calling.at("/alarm/alarm").textValue()).isEqualTo("watch-lost");
        assertThat(calling.has("chamberC"))
                .as("what was known before is not of now")
                .isFalse();
        forge.unwatch(ScriptedForge.QUARRY, AlarmAction.shelve(AlarmId.WATCH_LOST, 600, "Ada"));
        assertThat(row("quarry").get("attention").textValue()).isEqualTo("standing");
        assertThat(row("quarry").at("/alarm/state").textValue()).isEqualTo("shelved");
    }
}
