package org.bankfire.daemon.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.replay.RecordedBurnReader;
import org.bankfire.daemon.acquire.replay.RecordingProblem;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.store.StoreException;

/** Feeds recorded files into a run. */
final class RecordedFiles {
    private RecordedFiles() {}

    /**
     * Feeds all files, in time order.
     *
     * @return how many lines could not be read; each was named on standard error
     */
    static long feed(List<Path> files, RecordedRun run) throws IOException, StoreException {
        long[] problems = new long[1];
        try (RecordedBurnReader reader = RecordedBurnReader.open(files, problem -> {
            problems[0]++;
            System.err.println(problem);
            return RecordingProblem.Answer.CONTINUE;
        })) {
            Progress progress = new Progress(reader.bytesTotal());
            Pack pack = reader.next();
            while (pack != null) {
                run.accept(pack);
                progress.show(reader.bytesRead());
                pack = reader.next();
            }
            progress.end();
        }
        run.finish();
        return problems[0];
    }
}
