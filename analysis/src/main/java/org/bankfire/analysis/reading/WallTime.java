package org.bankfire.analysis.reading;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * A point on the civil time line, to the microsecond. It is what readings are keyed by; it may step when a clock is set.
 *
 * @param epochMicros microseconds since 1970-01-01T00:00:00Z (POSIX, no leap seconds)
 */
public record WallTime(long epochMicros) implements Comparable<WallTime> {
    private static final double MICROS_PER_SECOND = 1e6;
    private static final int NANOS_PER_MICRO = 1_000;

    /** The nearest microsecond to {@code epochSeconds}, which must be finite and within ±292,000 years. */
    public static WallTime ofEpochSeconds(double epochSeconds) {
        if (!(Math.abs(epochSeconds) < Long.MAX_VALUE / MICROS_PER_SECOND)) {
            throw new IllegalArgumentException("time " + epochSeconds + " s is outside the range of a wall time");
        }
        return new WallTime(Math.round(epochSeconds * MICROS_PER_SECOND));
    }

    /** {@code instant} cut to the microsecond. */
    public static WallTime of(Instant instant) {
        // Not the unit's own count, which goes by way of nanoseconds and ends in the year 2262.
        return new WallTime(
                Math.multiplyExact(instant.getEpochSecond(), 1_000_000L) + instant.getNano() / NANOS_PER_MICRO);
    }

    public double epochSeconds() {
        return epochMicros / MICROS_PER_SECOND;
    }

    public Instant toInstant() {
        return Instant.EPOCH.plus(epochMicros, ChronoUnit.MICROS);
    }

    /** Seconds from {@code earlier} to this; negative when {@code earlier} is later. */
    public double secondsSince(WallTime earlier) {
        return (epochMicros - earlier.epochMicros) / MICROS_PER_SECOND;
    }

    public WallTime plusSeconds(double seconds) {
        return new WallTime(epochMicros + Math.round(seconds * MICROS_PER_SECOND));
    }

    public WallTime plusMicros(long micros) {
        return new WallTime(epochMicros + micros);
    }

    public boolean isBefore(WallTime other) {
        return epochMicros < other.epochMicros;
    }

    public boolean isAfter(WallTime other) {
        return epochMicros > other.epochMicros;
    }

    @Override
    public int compareTo(WallTime other) {
        return Long.compare(epochMicros, other.epochMicros);
    }

    /** ISO 8601 in UTC. */
    @Override
    public String toString() {
        return toInstant().toString();
    }
}
