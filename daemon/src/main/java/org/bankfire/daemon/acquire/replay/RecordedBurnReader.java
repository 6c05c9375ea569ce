package org.bankfire.daemon.acquire.replay;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.frame.PackBuilder;
import org.bankfire.daemon.acquire.frame.SenMlDecoder;
import org.bankfire.daemon.acquire.replay.RecordedFile.Item;
import org.jspecify.annotations.Nullable;

/**
 * Reads recorded burns, SenML packs or CSV rows by what the file begins with, plain or gzip, several files merged in time
 * order. Each pack holds what one forge said at one time; memory stays bounded whatever the files' size.
 *
 * <p>Lines of a file may cross each other within {@value RecordedFile#WINDOW} readings; what comes later than that is
 * told to the listener and delivered late rather than lost. The receipt time of a reading is its source time unless the
 * file says otherwise.
 *
 * <pre>{@code
 * try (RecordedBurnReader reader = RecordedBurnReader.open(files, listener)) {
 *     for (Pack pack = reader.next(); pack != null; pack = reader.next()) { … }
 * }
 * }</pre>
 *
 * <p>For one thread, but that the byte counts may be read from any.
 */
public final class RecordedBurnReader implements Closeable {
    /** Files open at the same time: under what an operating system commonly lets a process open. */
    public static final int MAX_FILES = 256;

    private final List<RecordedFile> files;
    private final long bytesTotal;

    private RecordedBurnReader(List<RecordedFile> files, long bytesTotal) {
        this.files = files;
        this.bytesTotal = bytesTotal;
    }

    /**
     * Opens the files.
     *
     * @param listener told of every line that cannot be used; it decides whether to go on
     * @throws RecordedBurnException when a file begins neither with a pack nor with the CSV header
     * @throws IOException when a file cannot be opened
     */
    public static RecordedBurnReader open(List<Path> paths, RecordingProblem.Listener listener) throws IOException {
        if (paths.isEmpty() || paths.size() > MAX_FILES) {
            throw new IllegalArgumentException(paths.size() + " files; allowed are 1 to " + MAX_FILES);
        }
        List<RecordedFile> files = new ArrayList<>(paths.size());
        long bytesTotal = 0;
        try {
            for (Path path : paths) {
                files.add(RecordedFile.open(path, listener));
                bytesTotal += Files.size(path);
            }
        } catch (IOException e) {
            closeAll(files, e);
            throw e;
        }
        return new RecordedBurnReader(files, bytesTotal);
    }

    /** The next pack in time order, its readings of one forge and one source time; null at the end. */
    public @Nullable Pack next() throws IOException {
        RecordedFile file = earliest();
        if (file == null) {
            return null;
        }
        Item first = file.take();
        PackBuilder pack = new PackBuilder();
        add(pack, first);
        // No more than a pack on the wire may hold; a longer one goes on in the next.
        for (int count = 1; count < SenMlDecoder.MAX_RECORDS; count++) {
            file = earliest();
            Item item = file == null ? null : file.peek();
            if (file == null
                    || item == null
                    || !item.time().equals(first.time())
                    || !item.forge().equals(first.forge())) {
                break;
            }
            add(pack, file.take());
        }
        return pack.build();
    }

    /** The file whose next item is the earliest, the first of them in doubt. */
    private @Nullable RecordedFile earliest() throws IOException {
        RecordedFile earliest = null;
        WallTime earliestTime = null;
        for (RecordedFile file : files) {
            Item item = file.peek();
            if (item != null && (earliestTime == null || item.time().isBefore(earliestTime))) {
                earliest = file;
                earliestTime = item.time();
            }
        }
        return earliest;
    }

    private static void add(PackBuilder pack, Item item) {
        if (item.what() instanceof Reading reading) {
            pack.add(reading);
        } else if (item.what() instanceof Note note) {
            pack.add(note);
        } else if (item.what() instanceof Setting setting) {
            pack.add(setting);
        }
    }

    /** Bytes taken in from all files, compressed if they are; with {@link #bytesTotal} the measure of progress. */
    public long bytesRead() {
        long sum = 0;
        for (RecordedFile file : files) {
            sum += file.bytesRead();
        }
        return sum;
    }

    /** Size of all files when they were opened, bytes. */
    public long bytesTotal() {
        return bytesTotal;
    }

    @Override
    public void close() throws IOException {
        IOException failure = closeAll(files, null);
        if (failure != null) {
            throw failure;
        }
    }

    private static @Nullable IOException closeAll(List<RecordedFile> files, @Nullable IOException first) {
        IOException failure = first;
        for (RecordedFile file : files) {
            try {
                file.close();
            } catch (IOException e) {
                if (failure == null) {
                    failure = e;
                } else {
                    failure.addSuppressed(e);
                }
            }
        }
        return failure;
    }
}
