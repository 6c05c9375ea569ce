package org.bankfire.analysis.monitor;

import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.jspecify.annotations.Nullable;

/** What the monitor remembers of one channel: its latest reading, and where its clock stands. Times are µs. */
final class ChannelTrack {
    /** What a channel means to the monitor. */
    enum Role {
        CHAMBER,
        GAS,
        SHELL,
        FLAME,
        AMBIENT,
        GAS_TEMPERATURE,
        CYLINDER,
        SEQUENCE,
        OTHER;

        static Role of(String name) {
            return switch (name) {
                case ChannelNames.CHAMBER -> CHAMBER;
                case ChannelNames.GAS -> GAS;
                case ChannelNames.SHELL -> SHELL;
                case ChannelNames.FLAME -> FLAME;
                case ChannelNames.AMBIENT -> AMBIENT;
                case ChannelNames.GAS_TEMPERATURE -> GAS_TEMPERATURE;
                case ChannelNames.CYLINDER -> CYLINDER;
                case ChannelNames.SEQUENCE -> SEQUENCE;
                default -> OTHER;
            };
        }

        /** Whether its silence is a blind eye on the fire. */
        boolean watchesTheFire() {
            return this == CHAMBER || this == GAS || this == FLAME;
        }
    }

    /** Silence beyond this says that a source was away, not that it is slow, so it does not teach the interval. */
    private static final long LONGEST_INTERVAL = 10_000_000;

    /** A slow source is lost after this many of its usual intervals. */
    private static final double INTERVALS_TO_LOSS = 2.5;

    final Role role;

    @Nullable
    Reading last;

    /** Event time of the latest reading. */
    long at;
    /** Daemon time of its receipt. */
    long heard;
    /** Event time at which anything was last heard of the channel, late readings included. */
    long aliveAt;
    /** Event time minus source time. */
    long shift;
    /** Whether it is stamped by a clock of its own, not by the daemon at receipt. */
    boolean ownClock;
    /** Least receipt minus event time so far: the quickest way here. */
    long leastDelay;
    /** Usual distance of readings; 0 until two were heard. */
    long interval;

    int lateCount;
    long lateFirst;
    long lateFirstHeard;
    long lateLast;

    /** Silence beyond its deadline has been noticed. */
    boolean stale;
    /** Last reading of bad quality; {@link Long#MIN_VALUE} when there was none. */
    long badAt = Long.MIN_VALUE;
    /** Since when it has been good without a break. */
    long goodSince;

    ChannelTrack(Role role) {
        this.role = role;
    }

    /** Learns the usual distance of readings. */
    void learnInterval(long distance) {
        if (distance > LONGEST_INTERVAL) {
            return;
        }
        if (interval == 0) {
            interval = distance;
        } else if (distance > interval) {
            interval = Math.min(distance, interval + interval / 10 + 1);
        } else {
            interval += (distance - interval) / 5;
        }
    }

    /** Silence after which the channel is lost: the deadline, or longer for a source that is slow by nature. */
    long silence(long deadline) {
        return interval == 0
                ? Math.max(deadline, LONGEST_INTERVAL)
                : Math.max(deadline, Math.round(INTERVALS_TO_LOSS * interval));
    }

    /** Good or uncertain, and not silent. */
    boolean isUsable() {
        return last != null && !stale && !last.quality().isBad();
    }

    static boolean isTemperature(Reading reading) {
        return reading.unit().quantity() == Unit.Quantity.TEMPERATURE;
    }

    static double celsius(Reading reading) {
        return reading.unit().equals(Unit.CELSIUS) ? reading.value() : Unit.CELSIUS.fromSi(reading.siValue());
    }
}
