package org.bankfire.daemon.acquire;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Supplier;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Stamps what arrives: wall time that runs on from an anchor with the monotonic clock. Safe for use by many threads.
 *
 * <ul>
 *   <li>Stamps strictly increase, by at least a microsecond, over all callers; except once after each announced step
 *       backwards, where they go on from the time that was set.
 *   <li>A wall clock that differs from the anchored time by more than {@value #STEP_MICROS} µs was set, or the machine
 *       slept: that is a step. It is followed at once and announced once, by {@link #takeStep}.
 *   <li>A smaller difference is made up slowly, by at most 1 in {@value #SLEW_DIVISOR} of the elapsed time, so that
 *       rates of change computed from the stamps are off by 0.2 % at most.
 * </ul>
 */
public final class ReceiptClock {
    /** Far above what a clock under network time drifts between two stamps, far below what harms a record. */
    static final long STEP_MICROS = 500_000;

    /** Four times the rate (500 ppm) at which operating systems slew their clock: this one keeps up. */
    static final long SLEW_DIVISOR = 500;

    /** Under this the slewing would be lost in rounding. */
    private static final long SLEW_EVERY_MICROS = 1_000;

    /** The two clocks are not read at one instant; a pause of the process between them must not pass for a step. */
    private static final long READ_APART_MICROS = 50_000;

    private static final int READ_TRIES = 3;

    /** Steps that nobody has asked for yet; more than that are a broken clock, and joined into the last one. */
    private static final int STEPS_KEPT = 16;

    private final Supplier<WallTime> wall;
    private final Supplier<MonotonicTime> monotonic;
    private final Steps ownSteps = new Steps();
    private final List<Steps> followers = new CopyOnWriteArrayList<>(List.of(ownSteps));
    private long anchorMicros;
    private MonotonicTime anchor;
    private long lastMicros = Long.MIN_VALUE;

    /**
     * Starts at the present time of {@code wall}.
     *
     * @param wall the system clock
     * @param monotonic elapsed time
     */
    public ReceiptClock(Supplier<WallTime> wall, Supplier<MonotonicTime> monotonic) {
        this.wall = wall;
        this.monotonic = monotonic;
        this.anchor = monotonic.get();
        this.anchorMicros = wall.get().epochMicros();
    }

    /** The time now, later than every stamp before it unless a step backwards lies between. */
    public synchronized WallTime stamp() {
        lastMicros = Math.max(nowMicros(), lastMicros + 1);
        return new WallTime(lastMicros);
    }

    /** Elapsed time now. */
    public MonotonicTime monotonic() {
        return monotonic.get();
    }

    /**
     * The oldest step that was not taken yet, or null. Looks at the clocks, so that a step is noticed in silence too.
     * Asked after a delivery was taken from the queue and before it is handled, it tells of a step before the first
     * stamp that follows it.
     */
    public @Nullable ClockStep takeStep() {
        return ownSteps.take();
    }

    /** The steps from now on, for one more who follows the clock for good: each gets every step. */
    public Steps follow() {
        Steps steps = new Steps();
        followers.add(steps);
        return steps;
    }

    /** The steps of the clock as one follower takes them. */
    public final class Steps {
        // Guarded by the clock.
        private final Deque<ClockStep> waiting = new ArrayDeque<>();

        private Steps() {}

        /** The oldest step that this follower did not take yet, or null; see {@link ReceiptClock#takeStep}. */
        public @Nullable ClockStep take() {
            synchronized (ReceiptClock.this) {
                nowMicros();
                return waiting.poll();
            }
        }

        private void announce(ClockStep step) {
            ClockStep last = waiting.size() < STEPS_KEPT ? null : waiting.pollLast();
            waiting.add(
                    last == null
                            ? step
                            : new ClockStep(last.before(), last.after().plusSeconds(step.seconds())));
        }
    }

    private long nowMicros() {
        MonotonicTime read = monotonic.get();
        long wallMicros = wall.get().epochMicros();
        long elapsed = read.microsSince(anchor);
        long derived = anchorMicros + elapsed;
        long behind = wallMicros - derived;
        if (Math.abs(behind) > STEP_MICROS) {
            return followStep(derived);
        }
        if (elapsed < SLEW_EVERY_MICROS) {
            return derived;
        }
        long most = elapsed / SLEW_DIVISOR;
        anchorMicros = derived + Math.max(-most, Math.min(most, behind));
        anchor = anchor.plusMicros(elapsed);
        return anchorMicros;
    }

    /** Reads the clocks again, close together, and follows the step if it is still there. */
    private long followStep(long suspectedMicros) {
        for (int i = 0; i < READ_TRIES; i++) {
            MonotonicTime first = monotonic.get();
            long wallMicros = wall.get().epochMicros();
            MonotonicTime second = monotonic.get();
            if (second.microsSince(first) > READ_APART_MICROS) {
                continue;
            }
            long derived = anchorMicros + first.microsSince(anchor);
            if (Math.abs(wallMicros - derived) > STEP_MICROS) {
                ClockStep step = new ClockStep(new WallTime(derived), new WallTime(wallMicros));
                followers.forEach(follower -> follower.announce(step));
                anchorMicros = wallMicros;
                anchor = first;
                if (wallMicros < derived) {
                    lastMicros = Math.min(lastMicros, wallMicros - 1);
                }
                return wallMicros;
            }
            return derived;
        }
        return suspectedMicros; // a machine too busy to tell: the next stamp looks again
    }
}
