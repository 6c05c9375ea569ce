package org.bankfire.analysis.monitor;

import org.bankfire.analysis.alarm.Alarm;

/**
 * Notices silence: of everything that a forge's sources send, which is <em>no data</em>, and of a single channel while
 * others speak, which is a sensor gone bad. Times are event times, µs.
 *
 * <p>Once a channel has been heard that watches the fire, only such channels count as word from the source: a thermometer
 * on the wall says nothing of the burner.
 */
final class Silence {
    private static final double MICROS_PER_S = 1e6;
    /** A sensor that has been silent while others speak is given this much longer than the whole source. */
    private static final long STALE_GRACE = 1_000_000;

    private final Channels channels;
    private final Alarm noData;
    private final long deadline;

    private boolean heardAnything;
    private boolean silent;
    private boolean watchesFire;
    private long aliveAt;

    /** @param deadlineS silence after which a source is taken to be lost, s; longer for one that is slow by nature */
    Silence(Channels channels, Alarm noData, double deadlineS) {
        this.channels = channels;
        this.noData = noData;
        this.deadline = Math.round(deadlineS * MICROS_PER_S);
    }

    /** Time begins, and with it the wait for the first word. */
    void begin(long at) {
        aliveAt = at;
    }

    /** Something came in of that channel. */
    void heard(ChannelTrack track, long now) {
        heardAnything = true;
        track.aliveAt = now;
        if (!track.role.watchesTheFire() && watchesFire) {
            return;
        }
        watchesFire = track.role.watchesTheFire();
        double goneS = (now - aliveAt) / MICROS_PER_S;
        aliveAt = now;
        if (silent) {
            silent = false;
            // What was silent with the source is given its time again.
            channels.chamber.aliveAt = now;
            channels.pressure.aliveAt = now;
            channels.witness.aliveAt = now;
            noData.condition(false, now, goneS);
        }
    }

    /** Whether anything was ever heard. */
    boolean heardAnything() {
        return heardAnything;
    }

    /** Whether the source is lost. */
    boolean isSilent() {
        return silent;
    }

    /** When the source will count as lost if nothing comes; {@link Alarm#NEVER} when it is lost already. */
    long due() {
        if (silent) {
            return Alarm.NEVER;
        }
        long silence;
        if (!heardAnything) {
            silence = channels.chamber.silence(deadline);
        } else if (watchesFire) {
            // The quickest of the channels that watch the fire tells soonest that their source is gone.
            silence = Math.min(of(channels.chamber), Math.min(of(channels.pressure), of(channels.witness)));
        } else {
            silence = channels.inOrder().get(0).silence(deadline);
        }
        return aliveAt + silence + 1;
    }

    /** The source is lost. */
    void fall(long now) {
        silent = true;
        noData.condition(true, now, (now - aliveAt) / MICROS_PER_S);
    }

    /** When that channel will be stale if nothing comes of it; {@link Alarm#NEVER} when that says nothing new. */
    long staleDue(ChannelTrack track) {
        return track.last == null || track.stale || silent
                ? Alarm.NEVER
                : track.aliveAt + track.silence(deadline) + STALE_GRACE + 1;
    }

    private long of(ChannelTrack track) {
        return track.last == null ? Alarm.NEVER / 2 : track.silence(deadline);
    }
}
