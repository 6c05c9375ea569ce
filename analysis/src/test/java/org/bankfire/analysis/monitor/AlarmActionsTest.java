package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.bankfire.analysis.alarm.AlarmState.LATCHED_UNACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.NORMAL;
import static org.bankfire.analysis.alarm.AlarmState.OUT_OF_SERVICE;
import static org.bankfire.analysis.alarm.AlarmState.RETURNED_UNACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.SHELVED;
import static org.bankfire.analysis.alarm.AlarmState.SUPPRESSED;
import static org.bankfire.analysis.alarm.AlarmState.UNACKNOWLEDGED;
import static org.bankfire.analysis.monitor.Shed.at;
import static org.bankfire.analysis.monitor.Shed.bad;
import static org.bankfire.analysis.monitor.Shed.gas;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Unit;
import org.junit.jupiter.api.Test;

/** What users do about alarms, and how it outlives a restart. */
class AlarmActionsTest {
    private final Shed shed = new Shed();

    @Test
    void aShelfIsShownWithItsEndAndEndsThere() {
        shed.steady(0, 10, 1_245, 0);
        Note note = act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 30, "Ada")).orElseThrow();
        AlarmStatus shelved = shed.monitor.snapshot().alarms().get(0);
        assertThat(shelved.state()).isEqualTo(SHELVED);
        assertThat(shelved.until()).isEqualTo(note.time().plusSeconds(30));
        assertThat(shelved.why()).isEqualTo("Shelved for 0.5 min by Ada.");
        shed.steady(10, 60, 1_245, 0);
        List<AlarmTransition> steps = shed.transitions(AlarmId.CHAMBER_HIGH);
        assertThat(steps).extracting(AlarmTransition::state).containsExactly(UNACKNOWLEDGED, SHELVED, UNACKNOWLEDGED);
        assertThat(steps.get(2).time()).isEqualTo(note.time().plusSeconds(30));
        assertThat(shed.monitor.snapshot().alarms().get(0).until()).isNull();
    }

    @Test
    void aCriticalAlarmIsShelvedForAQuarterOfAnHourAtMost() {
        shed.steady(0, 10, 20, 0);
        AlarmAction tooLong = AlarmAction.shelve(AlarmId.FLAME_OUT, 901, "Ada");
        assertThatThrownBy(() -> act(tooLong))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("flame-out")
                .hasMessageContaining("900");
        assertThatThrownBy(() -> act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 28_801, "Ada")))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("28800");
        // A note of a source is not trusted further, and never makes the monitor fail.
        shed.monitor.accept(tooLong.note(Shed.ID, at(11)));
        shed.monitor.accept(new Note(Shed.ID, at(12), Note.SHELVE, "flame-out soon Ada"));
        assertThat(shed.alarms).isEmpty();
        assertThat(act(AlarmAction.shelve(AlarmId.FLAME_OUT, 900, "Ada"))).isPresent();
        assertThat(act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 28_800, "Ada"))).isPresent();
    }

    @Test
    void aBadSensorThatWasShelvedWhileColdIsHeardWhenTheGasIsOpened() {
        for (int i = 0; i < 40; i++) {
            shed.accept(bad(ChannelNames.CHAMBER, i * 0.25, Quality.OPEN, Unit.CELSIUS), gas(i * 0.25, 0));
        }
        act(AlarmAction.shelve(AlarmId.CHAMBER_SENSOR_BAD, 28_800, "Ada"));
        for (int i = 40; i < 80; i++) {
            shed.accept(bad(ChannelNames.CHAMBER, i * 0.25, Quality.OPEN, Unit.CELSIUS), gas(i * 0.25, 40e3));
        }
        List<AlarmTransition> steps = shed.transitions(AlarmId.CHAMBER_SENSOR_BAD);
        assertThat(steps).extracting(AlarmTransition::state).containsExactly(UNACKNOWLEDGED, SHELVED, UNACKNOWLEDGED);
        assertThat(steps)
                .extracting(AlarmTransition::priority)
                .containsExactly(Priority.HIGH, Priority.HIGH, Priority.CRITICAL);
        assertThat(steps.get(2).why()).contains("A flame-out would not be seen");
    }

    @Test
    void twoActionsBetweenTwoReadingsAreTwoNotes() {
        shed.steady(0, 10, 1_265, 0);
        Note first = act(AlarmAction.acknowledge(AlarmId.CHAMBER_HIGH, "Ada")).orElseThrow();
        Note second =
                act(AlarmAction.acknowledge(AlarmId.CHAMBER_OVER_LIMIT, "Ada")).orElseThrow();
        assertThat(second.time()).isEqualTo(first.time().plusMicros(1));
        assertThat(act(AlarmAction.acknowledge(AlarmId.CHAMBER_OVER_LIMIT, "Ada")))
                .isEmpty();
    }

    @Test
    void aShelfOutlivesARestartToItsEnd() {
        shed.steady(0, 10, 1_245, 0);
        Note shelved = act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 100, "Ada")).orElseThrow();
        Shed again = restarted(shelved);
        AlarmStatus standing = again.monitor.snapshot().alarms().get(0);
        assertThat(standing.state()).isEqualTo(SHELVED);
        again.steady(40, 200, 1_245, 0);
        assertThat(again.states(AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED);
        assertThat(again.alarms.get(0).time()).isEqualTo(shelved.time().plusSeconds(100));
    }

    @Test
    void whatWasOnAShelfThatEndedMeanwhileStandsAgainAndGoesUnlessItIsSeen() {
        shed.steady(0, 10, 1_245, 0);
        Note shelved = act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 100, "Ada")).orElseThrow();
        Shed again = restarted(shelved);
        again.steady(300, 400, 20, 0);
        assertThat(again.states(AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED);
        assertThat(again.alarms.get(0).time()).isEqualTo(at(300));
        assertThat(again.alarms.get(1).time()).isEqualTo(at(360));
    }

    @Test
    void aShelfWhoseEndNobodyKnowsIsOver() {
        shed.steady(0, 10, 1_245, 0);
        act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 28_800, "Ada"));
        Shed again = restarted();
        again.steady(20, 30, 1_245, 0);
        assertThat(again.states(AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED);
    }

    @Test
    void aShelfThatWasEndedIsNotTakenUp() {
        shed.steady(0, 10, 1_245, 0);
        Note shelved =
                act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 28_800, "Ada")).orElseThrow();
        Note ended = act(AlarmAction.unshelve(AlarmId.CHAMBER_HIGH, "Ada")).orElseThrow();
        Shed again = restarted(shelved, ended);
        assertThat(again.monitor.snapshot().alarms())
                .extracting(AlarmStatus::state)
                .containsExactly(UNACKNOWLEDGED);
    }

    @Test
    void aShelfIsNeverLongerThanItWasWhateverTheClocksSay() {
        shed.steady(0, 10, 1_245, 0);
        act(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 100, "Ada"));
        Note aDayAhead = AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 100, "Ada").note(Shed.ID, at(86_400));
        Shed again = restarted(aDayAhead);
        again.steady(40, 200, 1_245, 0);
        assertThat(again.alarms.get(0).time()).isEqualTo(at(140));
        assertThat(again.states(AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED);
    }

    @Test
    void outOfServiceOutlivesARestartAndWhatIsBackIsWatched() {
        shed.steady(0, 10, 1_245, 0);
        act(AlarmAction.outOfService(AlarmId.CHAMBER_HIGH, true, "Ada"));
        Shed again = restarted();
        again.steady(1e6, 1e6 + 20, 1_245, 0);
        AlarmStatus standing = again.monitor.snapshot().alarms().get(0);
        assertThat(standing.state()).isEqualTo(OUT_OF_SERVICE);
        assertThat(standing.why()).isEqualTo("Taken out of service by Ada.");
        assertThat(again.monitor.act(AlarmAction.outOfService(AlarmId.CHAMBER_HIGH, false, "Ada"), at(1e6 + 20)))
                .isPresent();
        assertThat(again.states(AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED);
    }

    @Test
    void aLatchedAlarmThatWasShelvedStandsAgainAfterTheShelf() {
        AlarmTransition out = new AlarmTransition(
                Shed.ID, at(-50), AlarmId.FLAME_OUT, UNACKNOWLEDGED, Priority.CRITICAL, 1_100, "The flame is out.");
        AlarmTransition away =
                new AlarmTransition(Shed.ID, at(-40), AlarmId.FLAME_OUT, SHELVED, Priority.CRITICAL, 1_100, "Shelved.");
        shed.monitor.restore(
                List.of(away, out),
                List.of(AlarmAction.shelve(AlarmId.FLAME_OUT, 600, "Ada").note(Shed.ID, at(-40))));
        shed.steady(0, 700, 20, 0);
        assertThat(shed.states(AlarmId.FLAME_OUT)).containsExactly(LATCHED_UNACKNOWLEDGED);
        assertThat(shed.alarms.get(0).time()).isEqualTo(at(560));
    }

    @Test
    void whatWasSuppressedIsJudgedAnewAfterARestart() {
        for (int i = 0; i < 40; i++) {
            shed.accept(bad(ChannelNames.CHAMBER, i * 0.25, Quality.OPEN, Unit.CELSIUS), gas(i * 0.25, 40e3));
        }
        assertThat(shed.states(AlarmId.FLAME_OUT)).containsExactly(SUPPRESSED);
        Shed again = restarted();
        again.steady(20, 30, 20, 0);
        assertThat(again.states(AlarmId.FLAME_OUT)).containsExactly(NORMAL);
        assertThat(again.transitions(AlarmId.FLAME_OUT).get(0).why()).contains("judged anew");
    }

    private Optional<Note> act(AlarmAction action) {
        return shed.monitor.act(action, at(10));
    }

    /** A monitor that takes up what {@link #shed} has told. */
    private Shed restarted(Note... notes) {
        List<AlarmTransition> newestFirst = new ArrayList<>(shed.alarms);
        Collections.reverse(newestFirst);
        Shed again = new Shed();
        again.monitor.restore(newestFirst, List.of(notes));
        return again;
    }
}
