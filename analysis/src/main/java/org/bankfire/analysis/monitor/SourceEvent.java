package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.reading.WallTime;

/**
 * Something about the stream of readings itself.
 *
 * @param forge the forge's id
 * @param time event time
 * @param kind what happened
 * @param value how much: lines, seconds; NaN when there is none
 * @param why the reason in words
 */
public record SourceEvent(String forge, WallTime time, Kind kind, double value, String why) {
    /** Kinds of source event. */
    public enum Kind {
        /** The running number jumped: lines were lost on the way. */
        LINES_LOST,
        /** The running number began again: the source was restarted. */
        RESTARTED,
        /** The clock that stamps this forge's readings was set. */
        CLOCK_STEPPED,
        /** What judges the readings hung and was replaced: for {@link #value} seconds nothing was judged. */
        LEDGER_RESTARTED,
        /** The forge sends more than can be judged: {@link #value} frames were passed over. */
        FRAMES_PASSED_OVER;

        /** Stable name for events. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }
}
