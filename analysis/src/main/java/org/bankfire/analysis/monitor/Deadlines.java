package org.bankfire.analysis.monitor;

/**
 * What happens because nothing came: the source falls silent, a sensor of it does, the lighting time is over, an alarm's
 * delay or shelf ends. Times are event times, µs.
 */
final class Deadlines {
    private final MonitorParts parts;
    private final Channels channels;
    private final Silence silence;

    Deadlines(MonitorParts parts) {
        this.parts = parts;
        this.channels = parts.channels;
        this.silence = parts.silence;
    }

    /** When {@link #happen} must be called next; time must have begun. */
    long due() {
        long due = Math.min(parts.alarms.board().due(), silence.due());
        due = Math.min(due, silence.staleDue(channels.chamber));
        due = Math.min(due, silence.staleDue(channels.pressure));
        due = Math.min(due, silence.staleDue(channels.witness));
        due = Math.min(due, parts.flameAlarms.due());
        return Math.min(due, lightingDue());
    }

    /** Takes the first of the steps that are due by {@code due}; alarms that are due go together. */
    void happen(long due, long now) {
        if (silence.due() <= due) {
            silence.fall(now);
        } else if (silence.staleDue(channels.chamber) <= due) {
            parts.sensors.lost(channels.chamber, now);
        } else if (silence.staleDue(channels.pressure) <= due) {
            parts.sensors.lost(channels.pressure, now);
        } else if (silence.staleDue(channels.witness) <= due) {
            channels.witness.stale = true;
            parts.fire.onWitnessLost();
        } else if (lightingDue() <= due) {
            parts.fire.lightingOver();
        } else {
            parts.alarms.board().fire(now);
        }
    }

    private long lightingDue() {
        boolean judged = channels.chamber.isUsable() && !parts.sensors.isChamberBad() && !silence.isSilent();
        return parts.fire.lightingDue(judged, channels.chamber.goodSince);
    }
}
