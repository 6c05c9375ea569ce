package org.bankfire.daemon.command;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.replay.RecordedBurnReader;
import org.jspecify.annotations.Nullable;

/** Reads recorded packs on a thread of its own, some ahead of who takes them: unpacking and decoding need a core's third. */
final class ReadAhead implements AutoCloseable {
    /** Packs that are handed over at once, so that the hand-over costs nothing. */
    private static final int BATCH = 512;
    /** Batches that may wait: some megabytes of packs. */
    private static final int MOST_BATCHES = 8;

    private static final long LOOK_MS = 100;

    private final RecordedBurnReader reader;
    private final BlockingQueue<List<Pack>> batches = new ArrayBlockingQueue<>(MOST_BATCHES);
    private final Thread thread = new Thread(this::read, "read ahead");
    private volatile boolean closed;
    private volatile @Nullable Throwable failure;
    private Iterator<Pack> batch = List.<Pack>of().iterator();
    private boolean ended;

    /** Begins to read; {@code reader} stays the caller's to close, after this. */
    ReadAhead(RecordedBurnReader reader) {
        this.reader = reader;
        thread.setDaemon(true);
        thread.start();
    }

    /** The next pack; null at the end. */
    @Nullable
    Pack next() throws IOException {
        while (!batch.hasNext() && !ended) {
            try {
                List<Pack> next = batches.take();
                ended = next.isEmpty();
                batch = next.iterator();
            } catch (InterruptedException interrupted) {
                Thread.currentThread().interrupt();
                throw new IOException("interrupted while reading", interrupted);
            }
        }
        if (batch.hasNext()) {
            return batch.next();
        }
        Throwable met = failure;
        if (met instanceof IOException unreadable) {
            throw unreadable;
        }
        if (met != null) {
            throw new IllegalStateException("reading ahead failed", met);
        }
        return null;
    }

    /** An empty batch is the end. */
    private void read() {
        try {
            List<Pack> packs = new ArrayList<>(BATCH);
            Pack pack = reader.next();
            while (pack != null && !closed) {
                packs.add(pack);
                if (packs.size() == BATCH) {
                    hand(packs);
                    packs = new ArrayList<>(BATCH);
                }
                pack = reader.next();
            }
            if (!packs.isEmpty()) {
                hand(packs);
            }
        } catch (IOException | RuntimeException | Error met) {
            failure = met;
        }
        hand(List.of());
    }

    private void hand(List<Pack> packs) {
        try {
            while (!closed && !batches.offer(packs, LOOK_MS, TimeUnit.MILLISECONDS)) {
                // Whoever takes them is slower; the file can wait.
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /** Ends the reading and waits for it. */
    @Override
    public void close() {
        closed = true;
        boolean interrupted = false;
        while (thread.isAlive()) {
            try {
                thread.join();
            } catch (InterruptedException met) {
                interrupted = true;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
