package org.bankfire.analysis.correction;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.WallTime;

/** The cold junctions of the frame in hand, and the latest one before it. */
final class ColdJunctions {
    private static final double MICROS_PER_SECOND = 1e6;

    private final double maxAgeMicros;
    private final List<Estimate> estimates = new ArrayList<>();
    private final List<WallTime> times = new ArrayList<>();
    // NaN: none yet, or the latest was faulty.
    private double latestC = Double.NaN;
    private long latestMicros = Long.MIN_VALUE;

    ColdJunctions(double maxAgeS) {
        this.maxAgeMicros = maxAgeS * MICROS_PER_SECOND;
    }

    void nextFrame() {
        estimates.clear();
        times.clear();
    }

    /** Takes the next cold junction of this frame. */
    void add(Estimate estimate, WallTime time) {
        estimates.add(estimate);
        times.add(time);
        // A single spike says nothing: the one before it still holds.
        if (estimate.quality() != Quality.SPIKE && time.epochMicros() >= latestMicros - maxAgeMicros) {
            latestC = estimate.value();
            latestMicros = time.epochMicros();
        }
    }

    /** The n-th cold junction of this frame. */
    Estimate get(int n) {
        return estimates.get(n);
    }

    /** °C at {@code time}: the nearest of this frame, else the latest, none too far away; NaN when there is none. */
    double celsiusAt(WallTime time) {
        int nearest = -1;
        double nearestMicros = maxAgeMicros;
        for (int n = 0; n < estimates.size(); n++) {
            double away = distanceMicros(times.get(n).epochMicros(), time);
            if (estimates.get(n).quality() != Quality.SPIKE && away <= nearestMicros) {
                nearest = n;
                nearestMicros = away;
            }
        }
        if (nearest >= 0) {
            return estimates.get(nearest).value();
        }
        return distanceMicros(latestMicros, time) <= maxAgeMicros ? latestC : Double.NaN;
    }

    private static double distanceMicros(long micros, WallTime time) {
        return Math.abs((double) micros - time.epochMicros());
    }
}
