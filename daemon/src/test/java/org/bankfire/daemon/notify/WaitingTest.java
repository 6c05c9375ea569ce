package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.daemon.notify.Alarms.step;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.stream.Stream;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.junit.jupiter.api.Test;

class WaitingTest {
    private static final AlarmState RAISED = AlarmState.UNACKNOWLEDGED;
    private static final AlarmState GONE = AlarmState.NORMAL;

    private static Telling telling(AlarmTransition step) {
        return Telling.of(step, 0, false);
    }

    private static <T> T anyOf(Random random, T[] values) {
        return values[random.nextInt(values.length)];
    }

    private static List<String> drain(Waiting waiting) {
        List<String> told = new ArrayList<>();
        Telling next = waiting.take();
        while (next != null) {
            told.add(next.latest().forge() + " " + next.latest().alarm().code() + " "
                    + next.latest().state().code());
            next = waiting.take();
        }
        return told;
    }

    @Test
    void toPeopleAnAlarmIsToldOnceAsItStands() {
        Waiting waiting = new Waiting(10, false);
        waiting.add(telling(step(AlarmId.CHAMBER_HIGH, RAISED, 0)));
        waiting.add(telling(step(AlarmId.CHAMBER_HIGH, AlarmState.ACKNOWLEDGED, 1)));
        waiting.add(telling(step(AlarmId.CHAMBER_HIGH, GONE, 2)));
        Telling told = Objects.requireNonNull(waiting.take());
        assertThat(told.latest().state()).isEqualTo(GONE);
        assertThat(told.steps()).isEqualTo(3);
        assertThat(waiting.size()).isZero();
    }

    @Test
    void toPeopleTheGravestGoesFirstAndOfTheSamePriorityTheOldest() {
        Waiting waiting = new Waiting(10, false);
        waiting.add(telling(step(AlarmId.MIXTURE_FLUTTER, RAISED, 0)));
        waiting.add(telling(step(AlarmId.CHAMBER_HIGH, RAISED, 1)));
        waiting.add(telling(step(AlarmId.NO_IGNITION, RAISED, 2)));
        waiting.add(telling(step("loft", AlarmId.FLAME_OUT, RAISED, 3)));
        assertThat(drain(waiting))
                .containsExactly(
                        "shed no-ignition unacknowledged",
                        "loft flame-out unacknowledged",
                        "shed chamber-high unacknowledged",
                        "shed mixture-flutter unacknowledged");
    }

    @Test
    void toProgramsEveryStepIsToldInOrder() {
        Waiting waiting = new Waiting(10, true);
        waiting.add(telling(step(AlarmId.MIXTURE_FLUTTER, RAISED, 0)));
        waiting.add(telling(step(AlarmId.FLAME_OUT, RAISED, 1)));
        waiting.add(telling(step(AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED, 2)));
        waiting.add(telling(step(AlarmId.FLAME_OUT, GONE, 3)));
        assertThat(drain(waiting))
                .containsExactly(
                        "shed mixture-flutter unacknowledged",
                        "shed flame-out unacknowledged",
                        "shed flame-out acknowledged",
                        "shed flame-out normal");
    }

    @Test
    void whatCouldNotBeBroughtStandsFirstAgainAsTheAlarmStandsNow() {
        for (boolean everyStep : new boolean[] {true, false}) {
            Waiting waiting = new Waiting(10, everyStep);
            waiting.add(telling(step(AlarmId.FLAME_OUT, RAISED, 0)));
            Telling taken = Objects.requireNonNull(waiting.take());
            waiting.add(telling(step(AlarmId.NO_IGNITION, RAISED, 1)));
            waiting.add(telling(step(AlarmId.FLAME_OUT, AlarmState.LATCHED_UNACKNOWLEDGED, 2)));
            waiting.putBack(taken);
            assertThat(drain(waiting))
                    .isEqualTo(
                            everyStep
                                    ? List.of(
                                            "shed flame-out unacknowledged",
                                            "shed no-ignition unacknowledged",
                                            "shed flame-out latched-unacknowledged")
                                    : List.of(
                                            "shed no-ignition unacknowledged",
                                            "shed flame-out latched-unacknowledged"));
        }
    }

    @Test
    void aStepThatAloneIsNotToldCountsOnlyWhereItsAlarmWaits() {
        Waiting waiting = new Waiting(10, false);
        assertThat(waiting.addIfWaiting(telling(step(AlarmId.FLAME_OUT, GONE, 0))))
                .isFalse();
        waiting.add(telling(step(AlarmId.CHAMBER_OVER_LIMIT, RAISED, 1)));
        assertThat(waiting.addIfWaiting(telling(step(AlarmId.CHAMBER_OVER_LIMIT, GONE, 2))))
                .isTrue();
        assertThat(drain(waiting)).containsExactly("shed chamber-over-limit normal");
    }

    @Test
    void theOldestOfTheLeastPriorityGivesWayAndIsCounted() {
        Waiting waiting = new Waiting(3, true);
        waiting.add(telling(step(AlarmId.MIXTURE_FLUTTER, RAISED, 0)));
        waiting.add(telling(step(AlarmId.CHAMBER_HIGH, RAISED, 1)));
        waiting.add(telling(step(AlarmId.MIXTURE_FLUTTER, GONE, 2)));
        waiting.add(telling(step(AlarmId.FLAME_OUT, RAISED, 3)));
        assertThat(waiting.dropped()).isEqualTo(1);
        waiting.add(telling(step(AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED, 4)));
        assertThat(waiting.dropped()).isEqualTo(2);
        assertThat(drain(waiting))
                .containsExactly(
                        "shed chamber-high unacknowledged",
                        "shed flame-out unacknowledged",
                        "shed flame-out acknowledged");
    }

    @Test
    void ofCriticalOnesOnlyAStepThatALaterOneOutdatesGivesWay() {
        Waiting waiting = new Waiting(2, true);
        waiting.add(telling(step(AlarmId.FLAME_OUT, RAISED, 0)));
        waiting.add(telling(step(AlarmId.NO_IGNITION, RAISED, 1)));
        waiting.add(telling(step(AlarmId.GAS_LEFT_ON, RAISED, 2)));
        assertThat(waiting.dropped())
                .as("one more than fits is kept rather than lost")
                .isZero();
        waiting.add(telling(step(AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED, 3)));
        assertThat(waiting.dropped()).isEqualTo(1);
        assertThat(drain(waiting))
                .containsExactly(
                        "shed no-ignition unacknowledged",
                        "shed gas-left-on unacknowledged",
                        "shed flame-out acknowledged");
    }

    /** Any order of arrivals, attempts that fail and attempts that succeed. */
    @Test
    void whateverHappensTheLatestStepOfEveryCriticalAlarmIsTold() {
        Random random = new Random(20260301);
        int critical = (int) Stream.of(AlarmId.values())
                .filter(id -> id.usualPriority() == Priority.CRITICAL)
                .count();
        for (int round = 0; round < 500; round++) {
            boolean everyStep = random.nextBoolean();
            int capacity = 1 + random.nextInt(6);
            Waiting waiting = new Waiting(capacity, everyStep);
            Map<Telling.Key, AlarmTransition> latest = new HashMap<>();
            Map<Telling.Key, AlarmTransition> lastTold = new HashMap<>();
            for (int i = 0; i < 60; i++) {
                AlarmId id = anyOf(random, AlarmId.values());
                AlarmState state = anyOf(random, AlarmState.values());
                AlarmTransition step = step(random.nextBoolean() ? "shed" : "loft", id, state, i);
                Telling taken = random.nextInt(3) == 0 ? waiting.take() : null;
                waiting.add(telling(step));
                if (step.priority() == Priority.CRITICAL) {
                    latest.put(telling(step).key(), step);
                }
                if (taken != null && random.nextBoolean()) {
                    waiting.putBack(taken);
                } else if (taken != null) {
                    lastTold.put(taken.key(), taken.latest());
                }
                // Of two forges.
                assertThat(waiting.size()).isLessThanOrEqualTo(Math.max(capacity, 2 * critical));
            }
            Telling next = waiting.take();
            while (next != null) {
                lastTold.put(next.key(), next.latest());
                next = waiting.take();
            }
            assertThat(lastTold).as("round %d", round).containsAllEntriesOf(latest);
        }
    }
}
