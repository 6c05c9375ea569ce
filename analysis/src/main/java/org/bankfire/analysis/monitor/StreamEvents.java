package org.bankfire.analysis.monitor;

import org.bankfire.analysis.reading.Reading;

/** Tells what befalls the stream of readings itself: lines lost, a source that began anew, clocks that were set. */
final class StreamEvents {
    private final String forge;
    private final EventClock clock;
    private final ForgeAlarms alarms;
    private final ForgeListener listener;
    private final SequenceWatch sequence = new SequenceWatch();

    StreamEvents(String forge, EventClock clock, ForgeAlarms alarms, ForgeListener listener) {
        this.forge = forge;
        this.clock = clock;
        this.alarms = alarms;
        this.listener = listener;
    }

    /** A running number that came in order, or whose lateness is in doubt. */
    void number(Reading reading, long now) {
        long lost = sequence.accept(reading.value());
        if (lost == SequenceWatch.RESTARTED) {
            tell(now, SourceEvent.Kind.RESTARTED, Double.NaN, "The source began to number its lines anew.");
        } else if (lost > 0) {
            tell(
                    now,
                    SourceEvent.Kind.LINES_LOST,
                    (double) lost,
                    lost == 1 ? "One line was lost on the way." : lost + " lines were lost on the way.");
        }
    }

    /** A running number that came late: while it is not yet clear that a clock was set back, the lines still count on. */
    void lateNumber(Reading reading, long now) {
        if (sequence.goesOn(reading.value())) {
            number(reading, now);
        }
    }

    /** Tells of a step of a clock, if one has just been bridged. */
    void clockStep() {
        double seconds = clock.takeStepS();
        if (Double.isNaN(seconds)) {
            return;
        }
        long now = clock.now();
        String why = "The clock that stamps the readings was set; what is computed goes on without a step.";
        tell(now, SourceEvent.Kind.CLOCK_STEPPED, seconds, why);
        if (clock.isRunning()) {
            alarms.clockStepped(now, seconds);
        }
    }

    private void tell(long now, SourceEvent.Kind kind, double value, String why) {
        listener.onSource(new SourceEvent(forge, clock.wall(now), kind, value, why));
    }
}
