package org.bankfire.analysis.monitor;

import org.bankfire.analysis.reading.WallTime;

/**
 * One continuous line of event time, in µs, that never runs backwards, laid through source times that may step.
 *
 * <p>A source's clock that was set forward shows as source times that run ahead of their receipt, at once and further than
 * any delay on the way could explain. One that was set back shows as readings that stay behind the latest one for two
 * seconds and more while time goes on; up to then they are taken for late ones. Either is bridged: event time goes on as
 * if nothing had happened, and wall times that leave the monitor follow the source's new clock. The daemon's own clock,
 * which stamps what comes without a time, is bridged when it says so.
 *
 * <p>The daemon's ticks are carried over to event time as the time that has passed since the latest receipt, so that a
 * source whose clock is wrong, or whose backlog is still on its way, is not taken for silent.
 */
final class EventClock {
    /** What {@link #place} answers for a reading that must not move any state. */
    static final long LATE = Long.MIN_VALUE;

    /** Source times beyond ±63,000 years are nonsense, and sums of them would overflow. */
    static final long FURTHEST = 2_000_000_000_000_000_000L;

    /** Steps smaller than this are left to be lived through, 5 s: delays on the way look the same. */
    private static final long LEAST_STEP = 5_000_000;

    private static final long LATE_SPAN = 2_000_000;
    private static final int LATE_COUNT = 4;

    /** Channels of one source step together: the same step within this is told once, 10 s. */
    private static final long SAME_STEP = 10_000_000;

    private static final long SAME_STEP_WITHIN = 1_000_000;

    /** Ticks act this much behind, 0.25 s, so that a deadline does not overtake a reading on its way. */
    private static final long TICK_BEHIND = 250_000;

    private boolean running;
    private boolean anyReading;
    private long now;
    private long outShift;
    private long daemonShift;
    private long lastHeard;
    private long nowAtHeard;
    private long lastStep;
    private long lastStepAt = Long.MIN_VALUE / 2;
    private double untoldStepS = Double.NaN;

    /** Whether time has begun. */
    boolean isRunning() {
        return running;
    }

    long now() {
        return now;
    }

    /** Goes on to {@code at}; never back. */
    void advance(long at) {
        now = running ? Math.max(now, at) : at;
        running = true;
    }

    /** Wall time by the sources' present clock. */
    WallTime wall(long at) {
        return new WallTime(at - outShift);
    }

    /** Event time of a wall time by the sources' present clock. */
    long ofWall(long wallMicros) {
        return clamp(wallMicros) + outShift;
    }

    /** Event time of the daemon's time; at least now. */
    long ofDaemon(long wallMicros) {
        long heard = clamp(wallMicros) + daemonShift;
        if (!running) {
            lastHeard = heard;
            nowAtHeard = heard + outShift - daemonShift;
            return nowAtHeard;
        }
        long behind = anyReading ? TICK_BEHIND : 0;
        return Math.max(now, nowAtHeard + (heard - lastHeard) - behind);
    }

    /** Event time of a reading, or {@link #LATE}. */
    long place(ChannelTrack track, long source, long receiptMicros, boolean first) {
        long heard = clamp(receiptMicros) + daemonShift;
        if (first) {
            track.shift = firstShift(source, heard);
            if (!anyReading) {
                outShift = track.shift;
            }
        }
        long at = source + track.shift;
        if (!first) {
            at = at <= track.at ? late(track, at, heard) : ahead(track, at, heard);
            if (at == LATE) {
                return LATE;
            }
            track.learnInterval(at - track.at);
            track.leastDelay = Math.min(track.leastDelay, heard - at);
        } else {
            track.leastDelay = heard - at;
        }
        track.lateCount = 0;
        track.at = at;
        track.heard = heard;
        track.ownClock = source != receiptMicros;
        anyReading = true;
        lastHeard = heard;
        nowAtHeard = running ? Math.max(now, at) : at;
        return at;
    }

    /** The daemon says that its clock was set by {@code micros}. */
    void daemonStepped(long micros, Iterable<ChannelTrack> tracks) {
        daemonShift -= micros;
        boolean moved = false;
        boolean any = false;
        for (ChannelTrack track : tracks) {
            any = true;
            if (!track.ownClock) {
                track.shift -= micros;
                moved = true;
            }
        }
        if (moved || !any) {
            outShift -= micros;
        }
        note(micros, now);
    }

    /** The step that was bridged since the last call, s, later positive; NaN when there was none. */
    double takeStepS() {
        double step = untoldStepS;
        untoldStepS = Double.NaN;
        return step;
    }

    private static long clamp(long micros) {
        return Math.max(-FURTHEST, Math.min(FURTHEST, micros));
    }

    private long firstShift(long source, long heard) {
        if (!running) {
            return outShift;
        }
        long at = source + outShift;
        long passed = Math.max(0, heard - lastHeard);
        boolean behind = at < now - LEAST_STEP;
        boolean ahead = at > now + passed + LEAST_STEP;
        return behind || ahead ? now + Math.min(passed, LEAST_STEP) - source : outShift;
    }

    private long late(ChannelTrack track, long at, long heard) {
        if (at == track.at) {
            return LATE;
        }
        if (track.lateCount == 0 || at <= track.lateLast) {
            track.lateCount = 1;
            track.lateFirst = at;
            track.lateFirstHeard = heard;
        } else {
            track.lateCount++;
        }
        track.lateLast = at;
        long span = at - track.lateFirst;
        // A backlog that is delivered anew comes in a burst; a clock that was set back goes on at its usual pace.
        boolean goesOn = heard - track.lateFirstHeard >= span / 2;
        if (track.lateCount < LATE_COUNT || span < LATE_SPAN || !goesOn) {
            return LATE;
        }
        long bridged = track.at + Math.max(span, Math.min(heard - track.heard, 2 * span));
        step(track, bridged - at);
        track.leastDelay = heard - bridged;
        return bridged;
    }

    private long ahead(ChannelTrack track, long at, long heard) {
        long passed = Math.max(0, heard - track.heard);
        boolean jumps = at - track.at - passed > LEAST_STEP + 4 * track.interval;
        if (!jumps || heard - at >= track.leastDelay - LEAST_STEP) {
            return at;
        }
        long bridged = track.at + Math.max(1, passed);
        step(track, bridged - at);
        return bridged;
    }

    /** The source's clock was set by −{@code shift}. */
    private void step(ChannelTrack track, long shift) {
        track.shift += shift;
        outShift = track.shift;
        note(-shift, track.at);
    }

    private void note(long micros, long at) {
        boolean same = Math.abs(micros - lastStep) < SAME_STEP_WITHIN && Math.abs(at - lastStepAt) < SAME_STEP;
        lastStep = micros;
        lastStepAt = at;
        if (!same) {
            untoldStepS = micros / 1e6;
        }
    }
}
