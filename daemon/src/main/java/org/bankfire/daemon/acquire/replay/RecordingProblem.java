package org.bankfire.daemon.acquire.replay;

import java.nio.file.Path;

/**
 * Something in a recorded burn that cannot be used, or came out of order.
 *
 * @param file which file
 * @param line which line, the first is 1
 * @param message the field, its value and what is allowed
 */
public record RecordingProblem(Path file, long line, String message) {
    /** What the reader does next. */
    public enum Answer {
        /** Goes on with the next line. */
        CONTINUE,
        /** Ends with a {@link RecordedBurnException}. */
        STOP
    }

    /** Told of each problem as it is met. */
    @FunctionalInterface
    public interface Listener {
        /** Stops at the first problem. */
        Listener STOP_AT_ONCE = problem -> Answer.STOP;

        Answer onProblem(RecordingProblem problem);
    }

    /** {@code burn.csv: line 7: field "value" is …}. */
    @Override
    public String toString() {
        return file + ": line " + line + ": " + message;
    }
}
