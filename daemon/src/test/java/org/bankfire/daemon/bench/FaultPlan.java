package org.bankfire.daemon.bench;

import static org.bankfire.daemon.bench.BurnPlan.between;

import java.util.SplittableRandom;

/**
 * What sensors and line do to the readings of one burn. How much is common practice, no source.
 *
 * @param chamberDriftKPerH slow drift of the chamber reading
 * @param pressureOffsetPa of the pressure sensor
 * @param pressureDriftPaPerH of the pressure sensor
 * @param spikesPerH single readings far off, a channel
 * @param dropoutsPerH single readings that report a fault, a channel
 * @param gapsPerH spells of 1 to 4 s without any reading
 * @param jitter of the distance of readings, as a part of it
 * @param latencyS from reading to receipt at most
 * @param stampedAtReceipt whether the daemon stamps the readings, not their source
 * @param seed of the moments
 */
record FaultPlan(
        double chamberDriftKPerH,
        double pressureOffsetPa,
        double pressureDriftPaPerH,
        double spikesPerH,
        double dropoutsPerH,
        double gapsPerH,
        double jitter,
        double latencyS,
        boolean stampedAtReceipt,
        long seed) {
    static FaultPlan draw(SplittableRandom random) {
        return new FaultPlan(
                between(random, -10, 10),
                between(random, -200, 200),
                between(random, -200, 200),
                between(random, 0, 6),
                between(random, 0, 6),
                between(random, 0, 4),
                between(random, 0, 0.15),
                between(random, 0.005, 0.15),
                random.nextBoolean(),
                random.nextLong());
    }
}
