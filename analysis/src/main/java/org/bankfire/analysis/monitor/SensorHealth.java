package org.bankfire.analysis.monitor;

import org.bankfire.analysis.alarm.Alarm;

/**
 * Whether the two sensors by which the flame is judged can be believed. One is bad from its first bad reading, or when it
 * falls silent, until it has been good for a while without a break, so that a loose contact does not come and go with
 * every reading. Times are event times, µs.
 */
final class SensorHealth {
    /** Good for this long, and for two readings, ends a spell of bad readings: with jitter, at 1 Hz too. */
    private static final long GOOD_AGAIN = 800_000;

    private static final long GOOD_AGAIN_LONGEST = 1_600_000;

    private final ChannelTrack chamber;
    private final ChannelTrack pressure;
    private final Alarm chamberAlarm;
    private final Alarm pressureAlarm;
    private boolean chamberBad;
    private boolean pressureBad;

    SensorHealth(Channels channels, Alarm chamberAlarm, Alarm pressureAlarm) {
        this.chamber = channels.chamber;
        this.pressure = channels.pressure;
        this.chamberAlarm = chamberAlarm;
        this.pressureAlarm = pressureAlarm;
    }

    /** A reading came of one of them; {@link #judge} follows when what it says has been taken. */
    void heard(ChannelTrack track, long now, boolean bad) {
        track.stale = false;
        if (bad) {
            track.badAt = now;
            track.goodSince = Alarm.NEVER / 2;
        } else if (track.goodSince == 0 || track.goodSince == Alarm.NEVER / 2) {
            track.goodSince = now;
        }
    }

    /** One of them fell silent. */
    void lost(ChannelTrack track, long now) {
        track.stale = true;
        judge(now);
    }

    void judge(long now) {
        chamberBad = isBad(chamber, chamberBad, now);
        pressureBad = isBad(pressure, pressureBad, now);
        chamberAlarm.condition(chamberBad, now, Double.NaN);
        pressureAlarm.condition(pressureBad, now, Double.NaN);
    }

    boolean isChamberBad() {
        return chamberBad;
    }

    boolean isPressureBad() {
        return pressureBad;
    }

    private static boolean isBad(ChannelTrack track, boolean before, long now) {
        if (track.last == null) {
            return false;
        }
        if (track.stale || track.goodSince > now) {
            return true;
        }
        long again = Math.max(GOOD_AGAIN, Math.min(track.interval * 4 / 5, GOOD_AGAIN_LONGEST));
        return before && now - track.goodSince < again;
    }
}
