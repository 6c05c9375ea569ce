package org.bankfire.analysis.alarm;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.bankfire.analysis.alarm.AlarmInput.ACKNOWLEDGE;
import static org.bankfire.analysis.alarm.AlarmInput.CLEAR;
import static org.bankfire.analysis.alarm.AlarmInput.RAISE;
import static org.bankfire.analysis.alarm.AlarmState.ACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.LATCHED_UNACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.NORMAL;
import static org.bankfire.analysis.alarm.AlarmState.OUT_OF_SERVICE;
import static org.bankfire.analysis.alarm.AlarmState.RETURNED_UNACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.SHELVED;
import static org.bankfire.analysis.alarm.AlarmState.SUPPRESSED;
import static org.bankfire.analysis.alarm.AlarmState.UNACKNOWLEDGED;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class AlarmTest {
    private static final long SECOND = 1_000_000;

    private final Journal journal = new Journal();

    /** The state diagram of ISA-18.2 / IEC 62682, from memory; the last two columns are not latched and latched. */
    @ParameterizedTest
    @CsvSource({
        "NORMAL, RAISE, UNACKNOWLEDGED, UNACKNOWLEDGED",
        "NORMAL, CLEAR, NORMAL, NORMAL",
        "NORMAL, ACKNOWLEDGE, NORMAL, NORMAL",
        "UNACKNOWLEDGED, RAISE, UNACKNOWLEDGED, UNACKNOWLEDGED",
        "UNACKNOWLEDGED, CLEAR, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED",
        "UNACKNOWLEDGED, ACKNOWLEDGE, ACKNOWLEDGED, ACKNOWLEDGED",
        "ACKNOWLEDGED, RAISE, ACKNOWLEDGED, ACKNOWLEDGED",
        "ACKNOWLEDGED, CLEAR, NORMAL, NORMAL",
        "ACKNOWLEDGED, ACKNOWLEDGE, ACKNOWLEDGED, ACKNOWLEDGED",
        "RETURNED_UNACKNOWLEDGED, RAISE, UNACKNOWLEDGED, UNACKNOWLEDGED",
        "RETURNED_UNACKNOWLEDGED, CLEAR, RETURNED_UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED",
        "RETURNED_UNACKNOWLEDGED, ACKNOWLEDGE, NORMAL, NORMAL",
        "LATCHED_UNACKNOWLEDGED, RAISE, UNACKNOWLEDGED, UNACKNOWLEDGED",
        "LATCHED_UNACKNOWLEDGED, CLEAR, LATCHED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED",
        "LATCHED_UNACKNOWLEDGED, ACKNOWLEDGE, NORMAL, NORMAL",
        "SHELVED, RAISE, SHELVED, SHELVED",
        "SHELVED, CLEAR, SHELVED, SHELVED",
        "SHELVED, ACKNOWLEDGE, SHELVED, SHELVED",
        "SUPPRESSED, RAISE, SUPPRESSED, SUPPRESSED",
        "SUPPRESSED, CLEAR, SUPPRESSED, SUPPRESSED",
        "SUPPRESSED, ACKNOWLEDGE, SUPPRESSED, SUPPRESSED",
        "OUT_OF_SERVICE, RAISE, OUT_OF_SERVICE, OUT_OF_SERVICE",
        "OUT_OF_SERVICE, CLEAR, OUT_OF_SERVICE, OUT_OF_SERVICE",
        "OUT_OF_SERVICE, ACKNOWLEDGE, OUT_OF_SERVICE, OUT_OF_SERVICE",
    })
    void everyCellOfTheTransitionTable(
            AlarmState from, AlarmInput input, AlarmState toUnlatched, AlarmState toLatched) {
        assertThat(input.after(from, false)).isEqualTo(toUnlatched);
        assertThat(input.after(from, true)).isEqualTo(toLatched);
    }

    @Test
    void anAlarmIsRaisedExactlyWhenItsOnDelayIsOverAndClearsAfterItsOffDelay() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 3, 5);
        alarm.condition(true, 10 * SECOND, 1250);
        assertThat(alarm.state()).isEqualTo(NORMAL);
        assertThat(alarm.due()).isEqualTo(13 * SECOND);
        alarm.fire(alarm.due());
        alarm.condition(false, 20 * SECOND, 1200);
        assertThat(alarm.due()).isEqualTo(25 * SECOND);
        alarm.fire(alarm.due());
        assertThat(journal.states).containsExactly(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED);
        assertThat(journal.times).containsExactly(13 * SECOND, 25 * SECOND);
        assertThat(journal.values).containsExactly(1250.0, 1200.0);
    }

    @Test
    void aConditionShorterThanTheDelayLeavesNoTrace() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 3, 5);
        alarm.condition(true, 10 * SECOND, 1250);
        alarm.condition(false, 12 * SECOND, 1200);
        assertThat(alarm.due()).isEqualTo(Alarm.NEVER);
        alarm.condition(true, 20 * SECOND, 1250);
        alarm.fire(23 * SECOND);
        alarm.condition(false, 30 * SECOND, 1200);
        alarm.condition(true, 34 * SECOND, 1250);
        assertThat(alarm.due()).isEqualTo(Alarm.NEVER);
        assertThat(journal.states).containsExactly(UNACKNOWLEDGED);
    }

    @Test
    void onlyWhatCallsForAttentionCanBeAcknowledged() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 0, 0);
        assertThat(alarm.acknowledge(0, "Ada")).isFalse();
        alarm.condition(true, 0, 1250);
        assertThat(alarm.acknowledge(1, "Ada")).isTrue();
        assertThat(alarm.acknowledge(2, "Ada")).isFalse();
        assertThat(alarm.why()).isEqualTo("Acknowledged by Ada.");
        alarm.condition(false, 3, 1200);
        assertThat(journal.states).containsExactly(UNACKNOWLEDGED, ACKNOWLEDGED, NORMAL);
    }

    @Test
    void aLatchedAlarmStandsUntilAcknowledged() {
        Alarm alarm = alarm(AlarmId.FLAME_OUT, 0, 0);
        alarm.condition(true, 0, 1100);
        alarm.condition(false, 1, 1000);
        assertThat(alarm.state()).isEqualTo(LATCHED_UNACKNOWLEDGED);
        alarm.acknowledge(2, "Ada");
        assertThat(alarm.state()).isEqualTo(NORMAL);
    }

    @Test
    void aShelfEndsByItselfAndWhatStillHoldsCallsAgain() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 0, 0);
        alarm.condition(true, 0, 1250);
        alarm.shelve(SECOND, 600, "Ada");
        assertThat(alarm.acknowledge(2 * SECOND, "Ada")).isFalse();
        assertThat(alarm.due()).isEqualTo(601 * SECOND);
        alarm.fire(alarm.due());
        assertThat(journal.states).containsExactly(UNACKNOWLEDGED, SHELVED, UNACKNOWLEDGED);
    }

    @Test
    void whatCameAndWentOnTheShelfIsNormalAfterItUnlessLatched() {
        Alarm plain = alarm(AlarmId.CHAMBER_HIGH, 0, 0);
        plain.shelve(0, 60, "Ada");
        plain.condition(true, 1, 1250);
        plain.condition(false, 2, 1200);
        plain.fire(plain.due());
        assertThat(plain.state()).isEqualTo(NORMAL);

        Alarm latched = alarm(AlarmId.FLAME_OUT, 0, 0);
        latched.shelve(0, 60, "Ada");
        latched.condition(true, 1, 1100);
        latched.condition(false, 2, 1000);
        latched.fire(latched.due());
        assertThat(latched.state()).isEqualTo(LATCHED_UNACKNOWLEDGED);
    }

    @Test
    void whatWasAcknowledgedBeforeItWasHiddenStaysAcknowledged() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 0, 0);
        alarm.condition(true, 0, 1250);
        alarm.acknowledge(1, "Ada");
        alarm.suppress(true, 2, "No data.");
        alarm.suppress(false, 3, "Data again.");
        assertThat(journal.states).containsExactly(UNACKNOWLEDGED, ACKNOWLEDGED, SUPPRESSED, ACKNOWLEDGED);
    }

    @Test
    void outOfServiceLiesOverSuppressedOverShelved() {
        Alarm alarm = alarm(AlarmId.SHELL_HIGH, 0, 0);
        alarm.shelve(0, 60, "Ada");
        alarm.suppress(true, 1, "No data.");
        alarm.outOfService(true, 2, "Ada");
        alarm.suppress(false, 3, "Data again.");
        assertThat(alarm.state()).isEqualTo(OUT_OF_SERVICE);
        alarm.outOfService(false, 4, "Ada");
        assertThat(alarm.state()).isEqualTo(SHELVED);
        alarm.unshelve(5, "Ada");
        assertThat(journal.states).containsExactly(SHELVED, SUPPRESSED, OUT_OF_SERVICE, SHELVED, NORMAL);
    }

    @Test
    void anAcknowledgedAlarmThatBecomesGraverCallsAgain() {
        Alarm alarm = alarm(AlarmId.CHAMBER_SENSOR_BAD, 0, 0);
        alarm.condition(true, 0, Double.NaN);
        alarm.acknowledge(1, "Ada");
        journal.priority = Priority.CRITICAL;
        alarm.condition(true, 2, Double.NaN);
        journal.priority = Priority.HIGH;
        alarm.condition(true, 3, Double.NaN);
        assertThat(journal.states).containsExactly(UNACKNOWLEDGED, ACKNOWLEDGED, UNACKNOWLEDGED);
        assertThat(alarm.priority()).isEqualTo(Priority.CRITICAL);
    }

    @Test
    void aChatteringAlarmCallsAtMostFiveTimesInTenMinutes() {
        Alarm alarm = alarm(AlarmId.NO_DATA, 0, 1);
        for (int second = 0; second < 600; second++) {
            long at = second * SECOND;
            while (alarm.due() <= at) {
                alarm.fire(alarm.due());
            }
            alarm.condition(second % 4 < 2, at, 3);
        }
        assertThat(journal.states.stream().filter(state -> state == UNACKNOWLEDGED))
                .hasSizeBetween(3, 5);
    }

    @ParameterizedTest
    @EnumSource(
            value = AlarmState.class,
            names = {"UNACKNOWLEDGED", "LATCHED_UNACKNOWLEDGED"})
    void aLatchedAlarmSurvivesARestart(AlarmState stored) {
        Alarm alarm = alarm(AlarmId.FLAME_OUT, 0, 0);
        alarm.restore(stored(AlarmId.FLAME_OUT, stored), 5);
        assertThat(alarm.state()).isEqualTo(stored);
        alarm.begin(6, 60 * SECOND);
        while (alarm.due() != Alarm.NEVER) {
            alarm.fire(alarm.due());
        }
        assertThat(alarm.state()).isEqualTo(LATCHED_UNACKNOWLEDGED);
        assertThat(alarm.acknowledge(70 * SECOND, "Ada")).isTrue();
        assertThat(alarm.state()).isEqualTo(NORMAL);
    }

    @Test
    void aRestoredAlarmWhoseConditionStillHoldsStaysAcknowledged() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 0, 0);
        alarm.restore(stored(AlarmId.CHAMBER_HIGH, ACKNOWLEDGED), 5);
        alarm.begin(6, 60 * SECOND);
        alarm.condition(true, 10 * SECOND, 1250);
        assertThat(alarm.due()).isEqualTo(Alarm.NEVER);
        assertThat(alarm.state()).isEqualTo(ACKNOWLEDGED);
        assertThat(journal.states).isEmpty();
    }

    @Test
    void aShelfWithoutEndIsRefused() {
        Alarm alarm = alarm(AlarmId.CHAMBER_HIGH, 0, 0);
        assertThatThrownBy(() -> alarm.shelve(0, Double.POSITIVE_INFINITY, "Ada"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("chamber-high");
    }

    @Test
    void theInputsOfTheTableAreTheOnesTested() {
        assertThat(AlarmInput.values()).containsExactly(RAISE, CLEAR, ACKNOWLEDGE);
    }

    private Alarm alarm(AlarmId id, double onS, double offS) {
        return new Alarm(id, new AlarmDelays(onS, offS), true, journal);
    }

    private static AlarmTransition stored(AlarmId id, AlarmState state) {
        return new AlarmTransition("shed", new WallTime(5), id, state, Priority.CRITICAL, 1100, "Before the restart.");
    }

    private static final class Journal implements AlarmContext {
        final List<AlarmState> states = new ArrayList<>();
        final List<Long> times = new ArrayList<>();
        final List<Double> values = new ArrayList<>();
        Priority priority = Priority.HIGH;

        @Override
        public Priority priority(AlarmId alarm) {
            return priority;
        }

        @Override
        public String raised(AlarmId alarm, double value) {
            return "Raised.";
        }

        @Override
        public String cleared(AlarmId alarm, double value) {
            return "Cleared.";
        }

        @Override
        public void onTransition(
                AlarmId alarm, AlarmState state, Priority graveness, long atMicros, double value, String why) {
            states.add(state);
            times.add(atMicros);
            values.add(value);
        }
    }
}
