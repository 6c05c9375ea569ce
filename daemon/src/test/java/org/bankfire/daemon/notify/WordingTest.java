package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.time.ZoneId;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.ledger.EventWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class WordingTest {
    private final Wording wording = new Wording(Alarms.NAMES, ZoneId.of("Europe/Berlin"));

    @Test
    void theFirstLineSaysWhatIsWrongAndTheSecondWhatToDoFirst() {
        AlarmTransition step = new AlarmTransition(
                "shed",
                WallTime.ofEpochSeconds(1_772_359_212.25),
                AlarmId.FLAME_OUT,
                AlarmState.UNACKNOWLEDGED,
                Priority.CRITICAL,
                1_103.2,
                "The flame is out and gas still flows; the chamber was at 1103 °C.");
        Message message = wording.of(Telling.of(step, 0, false));
        assertThat(message.subject()).isEqualTo("Shed forge: Flame out");
        assertThat(message.text()).isEqualTo("""
                Shed forge: Flame out
                Do first: Close the gas at the cylinder. Let the chamber air out. Only then relight.

                The flame is out and gas still flows; the chamber was at 1103 °C.

                Forge: Shed forge (shed)
                Time: 2026-03-01 11:00:12 +01:00 (Europe/Berlin)
                Value: 1103 °C
                Priority: critical
                State: unacknowledged

                Bankfire shuts nothing off: somebody must.
                """);
    }

    @Test
    void theJsonIsTheObjectThatReplayWrites() {
        StringBuilder replayed = new StringBuilder();
        new EventWriter(replayed).write(Alarms.flameOut());
        assertThat(Alarms.message().json() + "\n").hasToString(replayed.toString());
    }

    @ParameterizedTest
    @CsvSource({
        "GAS_LEFT_ON, 82500, 0.83 bar",
        "GAS_PRESSURE_HIGH, 412000, 4.12 bar",
        "NO_IGNITION, 15.2, 15.2 s",
        "SHELL_HIGH, 261.4, 261 °C",
        "LINING_LOSS_UP, 2.413, 2.41 W/K"
    })
    void aValueStandsWithItsUnit(AlarmId alarm, double value, String shown) {
        AlarmTransition step = new AlarmTransition(
                "shed", new WallTime(0), alarm, AlarmState.UNACKNOWLEDGED, alarm.usualPriority(), value, "x");
        assertThat(wording.of(Telling.of(step, 0, false)).text()).contains("\nValue: " + shown + "\n");
    }

    @ParameterizedTest
    @EnumSource(AlarmId.class)
    void everyAlarmSaysWhatToDoFirstAndAMissingValueIsLeftOut(AlarmId alarm) {
        AlarmTransition step = new AlarmTransition(
                "loft", new WallTime(0), alarm, AlarmState.UNACKNOWLEDGED, alarm.usualPriority(), Double.NaN, "why");
        Message message = wording.of(Telling.of(step, 0, false));
        assertThat(message.text().lines().skip(1).findFirst().orElse("")).matches("Do first: [A-Z].{10,}\\.");
        assertThat(message.text()).doesNotContain("Value").contains("Forge: loft\n");
    }

    @ParameterizedTest
    @CsvSource({
        "NORMAL, 'Shed forge: Flame out, back to normal'",
        "ACKNOWLEDGED, 'Shed forge: Flame out, acknowledged'",
        "LATCHED_UNACKNOWLEDGED, 'Shed forge: Flame out, its cause has gone, not acknowledged'"
    })
    void whatIsOverDoesNotReadLikeAnAlarm(AlarmState state, String subject) {
        Message message = wording.of(Telling.of(Alarms.step(AlarmId.FLAME_OUT, state, 5), 0, false));
        assertThat(message.subject()).isEqualTo(subject);
        assertThat(message.text()).doesNotContain("somebody must");
        assertThat(message.text().contains("Do first")).isEqualTo(state.callsForAttention());
    }

    @Test
    void whatComesLateOrAgainSaysSo() {
        Telling raised = Telling.of(Alarms.flameOut(), 0, true);
        assertThat(wording.of(raised).text()).contains("before the daemon was started again");
        Telling late = raised.then(Telling.of(Alarms.step(AlarmId.FLAME_OUT, AlarmState.NORMAL, 60), 60, false));
        assertThat(wording.of(late).text())
                .contains("This is how it stands now; 1 earlier steps")
                .doesNotContain("started again");
    }

    @Test
    void aTestSaysThatItIsOne() throws Exception {
        Message test = wording.test("porch", WallTime.ofEpochSeconds(1_772_359_212.25));
        assertThat(test.subject()).contains("test").contains("porch");
        assertThat(test.text()).contains("Nothing is wrong");
        JsonNode json = new ObjectMapper().readTree(test.json());
        assertThat(json.get("kind").textValue()).isEqualTo("test");
        assertThat(json.get("time").textValue()).isEqualTo("2026-03-01T10:00:12.250Z");
        assertThat(test.json()).contains("\"t\":1772359212.25,");
        assertThat(json.has("alarm")).isFalse();
        assertThat(test.facts()).containsEntry("KIND", "test");
    }
}
