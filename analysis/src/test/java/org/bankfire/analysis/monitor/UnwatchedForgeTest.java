package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.analysis.alarm.AlarmState.ACKNOWLEDGED;
import static org.bankfire.analysis.alarm.AlarmState.NORMAL;
import static org.bankfire.analysis.alarm.AlarmState.SHELVED;
import static org.bankfire.analysis.alarm.AlarmState.UNACKNOWLEDGED;
import static org.bankfire.analysis.monitor.Shed.at;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.Note;
import org.junit.jupiter.api.Test;

/** A forge that is not watched says so, and keeps the alarms that stood. */
class UnwatchedForgeTest {
    private static final String WHY = "This forge is not watched.";

    private final Shed shed = new Shed();
    private final List<AlarmTransition> told = new ArrayList<>();

    @Test
    void itCallsOnceAndCriticallyAndShowsNothingAsKnown() {
        UnwatchedForge forge = unwatched(List.of());
        forge.advance(at(0));
        forge.advance(at(60));
        assertThat(told).singleElement().satisfies(step -> {
            assertThat(step.alarm()).isEqualTo(AlarmId.WATCH_LOST);
            assertThat(step.state()).isEqualTo(UNACKNOWLEDGED);
            assertThat(step.priority()).isEqualTo(Priority.CRITICAL);
            assertThat(step.time()).isEqualTo(at(0));
            assertThat(step.why()).isEqualTo(WHY);
        });
        ForgeSnapshot shown = forge.snapshot();
        assertThat(shown.alarms()).extracting(AlarmStatus::alarm).containsExactly(AlarmId.WATCH_LOST);
        assertThat(shown.time()).isNull();
        assertThat(shown.chamber()).isNull();
        assertThat(shown.flame()).isEqualTo(FlameState.UNAVAILABLE);
        assertThat(shown.heatInputW()).isNaN();
    }

    @Test
    void whatStoodStandsOnAndCanBeAcknowledged() {
        shed.steady(0, 10, 1_245, 0);
        UnwatchedForge forge = unwatched(newestFirst(shed.alarms));
        forge.advance(at(11));
        forge.advance(at(3_600));
        assertThat(states(forge, AlarmId.CHAMBER_HIGH)).containsExactly(UNACKNOWLEDGED);
        Optional<Note> first = forge.act(AlarmAction.acknowledge(AlarmId.CHAMBER_HIGH, "Ada"), at(3_600));
        Optional<Note> second = forge.act(AlarmAction.acknowledge(AlarmId.WATCH_LOST, "Ada"), at(3_600));
        assertThat(first.orElseThrow().time()).isNotEqualTo(second.orElseThrow().time());
        assertThat(forge.act(AlarmAction.acknowledge(AlarmId.WATCH_LOST, "Ada"), at(3_601)))
                .isEmpty();
        assertThat(states(forge, AlarmId.CHAMBER_HIGH)).containsExactly(ACKNOWLEDGED);
        assertThat(states(forge, AlarmId.WATCH_LOST)).containsExactly(ACKNOWLEDGED);
    }

    @Test
    void aShelfEndsWhileNobodyWatches() {
        UnwatchedForge forge = unwatched(List.of());
        forge.advance(at(0));
        forge.act(AlarmAction.shelve(AlarmId.WATCH_LOST, 600, "Ada"), at(1));
        forge.advance(at(600));
        assertThat(states(forge, AlarmId.WATCH_LOST)).containsExactly(SHELVED);
        forge.advance(at(602));
        assertThat(states(forge, AlarmId.WATCH_LOST)).containsExactly(UNACKNOWLEDGED);
        assertThat(told.get(told.size() - 1).time()).isEqualTo(at(601));
    }

    @Test
    void anotherThatTakesOverCallsNobodyAnew() {
        UnwatchedForge before = unwatched(List.of());
        before.advance(at(0));
        before.act(AlarmAction.acknowledge(AlarmId.WATCH_LOST, "Ada"), at(5));
        int calls = told.size();
        UnwatchedForge after = unwatched(newestFirst(told));
        after.advance(at(10));
        assertThat(told).hasSize(calls);
        assertThat(states(after, AlarmId.WATCH_LOST)).containsExactly(ACKNOWLEDGED);
    }

    @Test
    void oneThatIsWatchedAgainForAMinuteSaysSo() {
        UnwatchedForge before = unwatched(List.of());
        before.advance(at(0));
        before.act(AlarmAction.acknowledge(AlarmId.WATCH_LOST, "Ada"), at(5));
        shed.monitor.restore(newestFirst(told), List.of());
        shed.steady(10, 65, 900, 0);
        assertThat(shed.transitions(AlarmId.WATCH_LOST)).isEmpty();
        shed.steady(65, 75, 900, 0);
        assertThat(shed.transitions(AlarmId.WATCH_LOST)).singleElement().satisfies(step -> {
            assertThat(step.state()).isEqualTo(NORMAL);
            assertThat(step.why()).isEqualTo("The forge is watched again.");
        });
    }

    private UnwatchedForge unwatched(List<AlarmTransition> before) {
        UnwatchedForge forge = new UnwatchedForge(Shed.ID, WHY, told::add);
        forge.restore(before, List.of());
        return forge;
    }

    private static List<AlarmTransition> newestFirst(List<AlarmTransition> steps) {
        List<AlarmTransition> turned = new ArrayList<>(steps);
        Collections.reverse(turned);
        return turned;
    }

    private static List<AlarmState> states(UnwatchedForge forge, AlarmId alarm) {
        return forge.snapshot().alarms().stream()
                .filter(status -> status.alarm() == alarm)
                .map(AlarmStatus::state)
                .toList();
    }
}
