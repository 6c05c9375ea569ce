package org.bankfire.daemon.acquire.replay;

import java.io.IOException;
import java.nio.file.Path;

/** A recorded burn that cannot be read, or was not to be read on after a problem. The message names file and line. */
public final class RecordedBurnException extends IOException {
    private static final long serialVersionUID = 1L;

    RecordedBurnException(RecordingProblem problem) {
        super(problem.toString());
    }

    RecordedBurnException(Path file, String message) {
        super(file + ": " + message);
    }
}
