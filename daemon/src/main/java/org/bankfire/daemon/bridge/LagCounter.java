package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.concurrent.atomic.DoubleAdder;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.SnapshotLag;
import org.jspecify.annotations.Nullable;

/** Counts how old readings are when a snapshot first shows them. Safe for use by many threads. */
final class LagCounter {
    /** From what one look takes to where the page itself says that data are late, s; dense about the 100 ms that are aimed at. */
    private static final List<Double> BOUNDS_S =
            List.of(0.001, 0.002, 0.005, 0.01, 0.02, 0.03, 0.05, 0.075, 0.1, 0.15, 0.2, 0.3, 0.5, 1.0, 2.0, 5.0);

    /** A clock that is further ahead is wrong and tells no lag; nearer, it is a little off or its reading came at once, µs. */
    private static final long AHEAD_MICROS = 1_000_000;

    private final List<LongAdder> counts =
            Stream.generate(LongAdder::new).limit(BOUNDS_S.size() + 1).toList();
    private final DoubleAdder sumS = new DoubleAdder();

    /** Counts {@code next} when it has a newer reading than {@code last}, the forge's snapshot before it. */
    void count(@Nullable ForgeSnapshot last, ForgeSnapshot next, Supplier<WallTime> clock) {
        WallTime now = clock.get();
        long latest = now.epochMicros() + AHEAD_MICROS;
        long newest = newestMicros(next, latest);
        if (newest == Long.MIN_VALUE || (last != null && newest <= newestMicros(last, latest))) {
            return;
        }
        double lagS = Math.max(0, now.secondsSince(new WallTime(newest)));
        int index = 0;
        while (index < BOUNDS_S.size() && lagS > BOUNDS_S.get(index)) {
            index++;
        }
        counts.get(index).increment();
        sumS.add(lagS);
    }

    /**
     * The newest reading that is not ahead: a channel whose clock is would hide all others, which come later and yet are
     * never newer. When all of them are, the newest of these.
     */
    private static long newestMicros(ForgeSnapshot snapshot, long latest) {
        long newest = Long.MIN_VALUE;
        long ahead = Long.MIN_VALUE;
        for (Reading reading : snapshot.latest()) {
            long micros = reading.sourceTime().epochMicros();
            if (micros <= latest) {
                newest = Math.max(newest, micros);
            }
            ahead = Math.max(ahead, micros);
        }
        return newest == Long.MIN_VALUE ? ahead : newest;
    }

    SnapshotLag lag() {
        return new SnapshotLag(BOUNDS_S, counts.stream().map(LongAdder::sum).toList(), sumS.sum());
    }
}
