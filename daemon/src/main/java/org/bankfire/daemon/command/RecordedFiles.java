package org.bankfire.daemon.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Note;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.replay.RecordedBurnReader;
import org.bankfire.daemon.acquire.replay.RecordingProblem;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.store.StoreException;

/** Feeds recorded files into a run. */
final class RecordedFiles {
    /** Ten a day for a year, in the files of one call. */
    private static final int MOST_CORRECTIONS = 4_000;

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
            try (ReadAhead ahead = new ReadAhead(reader)) {
                Pack pack = ahead.next();
                while (pack != null) {
                    run.accept(pack);
                    progress.show(reader.bytesRead());
                    pack = ahead.next();
                }
            }
            progress.end();
        }
        run.finish();
        return problems[0];
    }

    /** The corrections in the files, wherever they stand; what cannot be read is told when the files are fed. */
    static List<Note> corrections(List<Path> files) throws IOException {
        List<Note> corrections = new ArrayList<>();
        try (RecordedBurnReader reader = RecordedBurnReader.open(files, problem -> RecordingProblem.Answer.CONTINUE)) {
            Pack pack = reader.next();
            while (pack != null) {
                for (Note note : pack.notes()) {
                    if (note.name().equals(Note.CORRECTION) && corrections.size() < MOST_CORRECTIONS) {
                        corrections.add(note);
                    }
                }
                pack = reader.next();
            }
        }
        return corrections;
    }
}
