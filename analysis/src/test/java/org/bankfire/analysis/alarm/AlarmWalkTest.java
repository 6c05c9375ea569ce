package org.bankfire.analysis.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Long random walks of one alarm beside a model of it that is written another way: a set of facts, and seconds counted
 * one by one instead of deadlines.
 */
class AlarmWalkTest {
    private static final long SECOND = 1_000_000;
    private static final int STEPS = 20_000;

    /** What may be true of an alarm. */
    enum Fact {
        ACTIVE,
        /** There is something that the user has not acknowledged. */
        OPEN,
        /** The user has heard of it. */
        HEARD,
        CRITICAL,
        SHELVED,
        SHELVED_AS_CRITICAL,
        SUPPRESSED,
        OUT
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8})
    void nothingThatStandsIsLostAndNothingHappensUntold(int seed) {
        Random random = new Random(seed);
        boolean latched = seed % 2 == 0;
        int onS = random.nextInt(4);
        int offS = random.nextInt(6);
        Walk walk = new Walk(latched, onS, offS);
        for (int step = 0; step < STEPS; step++) {
            walk.rest(random.nextInt(20) == 0 ? random.nextInt(200) : random.nextInt(3));
            walk.input(random);
            walk.compare(step);
        }
        // A walk that never came to where it matters has shown nothing.
        assertThat(walk.seen).isEqualTo(expectedStates(latched));
        assertThat(walk.told).isEqualTo(walk.expected).hasSizeGreaterThan(STEPS / 20);
    }

    private static Set<AlarmState> expectedStates(boolean latched) {
        Set<AlarmState> all = EnumSet.allOf(AlarmState.class);
        all.remove(latched ? AlarmState.RETURNED_UNACKNOWLEDGED : AlarmState.LATCHED_UNACKNOWLEDGED);
        return all;
    }

    /** A step of the alarm. */
    private record Told(long micros, AlarmState state) {}

    /** The alarm and its model, given the same. */
    private static final class Walk implements AlarmContext {
        final Set<AlarmState> seen = EnumSet.noneOf(AlarmState.class);
        final List<Told> told = new ArrayList<>();
        final List<Told> expected = new ArrayList<>();
        private final Set<Fact> facts = EnumSet.noneOf(Fact.class);
        private final Alarm alarm;
        private final boolean latched;
        private final int onS;
        private final int offS;
        private long second;
        private boolean holds;
        private boolean critical;
        private int againstS;
        private int shelfLeftS;

        Walk(boolean latched, int onS, int offS) {
            this.latched = latched;
            this.onS = onS;
            this.offS = offS;
            AlarmId id = latched ? AlarmId.NO_IGNITION : AlarmId.CHAMBER_SENSOR_BAD;
            alarm = new Alarm(id, new AlarmDelays(onS, offS), false, this);
        }

        /** Seconds pass. */
        void rest(int seconds) {
            for (int i = 0; i < seconds; i++) {
                second++;
                AlarmState before = visible();
                boolean called = false;
                if (holds != facts.contains(Fact.ACTIVE)) {
                    againstS++;
                    called = followIfDue();
                }
                if (facts.contains(Fact.SHELVED) && --shelfLeftS == 0) {
                    takeOffShelf();
                }
                count(before, called);
            }
            while (alarm.due() <= second * SECOND) {
                alarm.fire(alarm.due());
            }
        }

        void input(Random random) {
            AlarmState before = visible();
            long at = second * SECOND;
            boolean called = false;
            switch (random.nextInt(14)) {
                case 0, 1, 2 -> called = tell(true, at);
                case 3, 4, 5 -> called = tell(false, at);
                case 6 -> {
                    critical = random.nextInt(3) == 0;
                    called = tell(holds, at);
                }
                case 7, 8 -> acknowledge(at);
                case 9 -> called = shelve(1 + random.nextInt(40), at);
                case 10 -> {
                    assertThat(alarm.unshelve(at, "Ada")).isEqualTo(facts.contains(Fact.SHELVED));
                    takeOffShelf();
                }
                case 11, 12 -> {
                    boolean suppress = random.nextBoolean();
                    alarm.suppress(suppress, at, "No data.");
                    set(Fact.SUPPRESSED, suppress);
                }
                default -> {
                    boolean out = random.nextBoolean();
                    assertThat(alarm.outOfService(out, at, "Ada")).isNotEqualTo(out == facts.contains(Fact.OUT));
                    if (out && !facts.contains(Fact.OUT)) {
                        putAway();
                    }
                    set(Fact.OUT, out);
                }
            }
            count(before, called);
        }

        void compare(int step) {
            AlarmState state = visible();
            seen.add(state);
            assertThat(alarm.state()).as("step %d", step).isEqualTo(state);
            assertThat(told).as("step %d", step).hasSameSizeAs(expected);
            assertThat(alarm.due()).as("step %d", step).isGreaterThan(second * SECOND);
            assertThat(alarm.isActive()).isEqualTo(facts.contains(Fact.ACTIVE));
            assertThat(alarm.isShelved()).isEqualTo(facts.contains(Fact.SHELVED));
            boolean grave = facts.contains(Fact.ACTIVE) && facts.contains(Fact.CRITICAL);
            if (grave && facts.contains(Fact.OPEN) && !hidden()) {
                assertThat(alarm.state().callsForAttention())
                        .as("step %d", step)
                        .isTrue();
                assertThat(alarm.priority()).isEqualTo(Priority.CRITICAL);
            }
            if (grave && facts.contains(Fact.SHELVED)) {
                assertThat(facts).as("step %d", step).contains(Fact.SHELVED_AS_CRITICAL);
            }
        }

        /** Whether it calls although the state may be the same. */
        private boolean tell(boolean nowHolds, long at) {
            boolean changed = nowHolds != holds;
            holds = nowHolds;
            alarm.condition(nowHolds, at, 7);
            if (changed) {
                againstS = 0;
                return holds != facts.contains(Fact.ACTIVE) && followIfDue();
            }
            if (holds && facts.contains(Fact.ACTIVE) && critical && !facts.contains(Fact.CRITICAL)) {
                facts.add(Fact.CRITICAL);
                facts.add(Fact.OPEN);
                breakShelf();
                return !hidden();
            }
            return false;
        }

        private boolean followIfDue() {
            if (againstS < (holds ? onS : offS)) {
                return false;
            }
            if (holds) {
                facts.add(Fact.ACTIVE);
                facts.add(Fact.OPEN);
                set(Fact.CRITICAL, critical);
                breakShelf();
            } else {
                facts.remove(Fact.ACTIVE);
                forget();
            }
            return false;
        }

        private void acknowledge(long at) {
            boolean calls = facts.contains(Fact.OPEN) && !hidden();
            assertThat(alarm.acknowledge(at, "Ada")).isEqualTo(calls);
            if (calls) {
                facts.remove(Fact.OPEN);
                facts.remove(Fact.HEARD);
            }
        }

        /** Whether it is told although the state may be the same. */
        private boolean shelve(int seconds, long at) {
            boolean possible = !facts.contains(Fact.OUT);
            assertThat(alarm.shelve(at, seconds, "Ada")).isEqualTo(possible);
            if (!possible) {
                return false;
            }
            boolean stands = facts.contains(Fact.ACTIVE) || facts.contains(Fact.OPEN);
            boolean asCritical = critical || (facts.contains(Fact.CRITICAL) && stands);
            facts.add(Fact.SHELVED);
            set(Fact.SHELVED_AS_CRITICAL, asCritical);
            set(Fact.CRITICAL, asCritical);
            shelfLeftS = seconds;
            putAway();
            return !facts.contains(Fact.SUPPRESSED);
        }

        private void takeOffShelf() {
            facts.remove(Fact.SHELVED);
            facts.remove(Fact.SHELVED_AS_CRITICAL);
        }

        private void breakShelf() {
            if (facts.contains(Fact.CRITICAL) && !facts.contains(Fact.SHELVED_AS_CRITICAL)) {
                takeOffShelf();
            }
        }

        private void putAway() {
            facts.remove(Fact.HEARD);
            forget();
        }

        /** What has gone and was not heard leaves nothing open, unless it is latched. */
        private void forget() {
            if (!facts.contains(Fact.ACTIVE) && !latched && !facts.contains(Fact.HEARD)) {
                facts.remove(Fact.OPEN);
            }
        }

        private void count(AlarmState before, boolean called) {
            if (!hidden() && facts.contains(Fact.OPEN)) {
                facts.add(Fact.HEARD);
            }
            if (called || visible() != before) {
                expected.add(new Told(second * SECOND, visible()));
            }
        }

        private void set(Fact fact, boolean is) {
            if (is) {
                facts.add(fact);
            } else {
                facts.remove(fact);
            }
        }

        private boolean hidden() {
            return facts.contains(Fact.SHELVED) || facts.contains(Fact.SUPPRESSED) || facts.contains(Fact.OUT);
        }

        private AlarmState visible() {
            if (facts.contains(Fact.OUT)) {
                return AlarmState.OUT_OF_SERVICE;
            }
            if (facts.contains(Fact.SUPPRESSED)) {
                return AlarmState.SUPPRESSED;
            }
            if (facts.contains(Fact.SHELVED)) {
                return AlarmState.SHELVED;
            }
            if (facts.contains(Fact.ACTIVE)) {
                return facts.contains(Fact.OPEN) ? AlarmState.UNACKNOWLEDGED : AlarmState.ACKNOWLEDGED;
            }
            if (!facts.contains(Fact.OPEN)) {
                return AlarmState.NORMAL;
            }
            return latched ? AlarmState.LATCHED_UNACKNOWLEDGED : AlarmState.RETURNED_UNACKNOWLEDGED;
        }

        @Override
        public Priority priority(AlarmId id) {
            return critical ? Priority.CRITICAL : Priority.HIGH;
        }

        @Override
        public String raised(AlarmId id, double value) {
            return "Raised.";
        }

        @Override
        public String cleared(AlarmId id, double value) {
            return "Cleared.";
        }

        @Override
        public void onTransition(
                AlarmId id, AlarmState state, Priority priority, long atMicros, double value, String why) {
            told.add(new Told(atMicros, state));
        }
    }
}
