package org.bankfire.daemon.command;

import java.io.IOException;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Event lines on their way to standard output, written by a thread of their own: a terminal that was halted with Ctrl-S,
 * or a program behind a pipe that does not read, must not hold up the thread that judges the readings.
 */
final class EventLines implements Appendable, AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(EventLines.class);

    /** Days of a forge's events, some 2 MB at worst; what does not fit is in the log book all the same. */
    private static final int MOST_WAITING = 10_000;

    /** A reader that is there takes all in much less; one that is not must not hold up the end. */
    private static final long LAST_WORDS_MS = 1_000;

    private static final long LOOK_MS = 100;

    private final Appendable out;
    private final long lastWordsMs;
    private final BlockingQueue<String> waiting = new ArrayBlockingQueue<>(MOST_WAITING);
    private final AtomicLong passedOver = new AtomicLong();
    private final Thread thread = new Thread(this::write, "events");
    private volatile boolean closing;

    /** Begins to write to {@code out} what comes. */
    EventLines(Appendable out) {
        this(out, LAST_WORDS_MS);
    }

    /** @param lastWordsMs what still waits at the end gets this long to be taken, ms */
    EventLines(Appendable out, long lastWordsMs) {
        this.out = out;
        this.lastWordsMs = lastWordsMs;
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public Appendable append(CharSequence line) {
        if (!waiting.offer(line.toString()) && Long.bitCount(passedOver.incrementAndGet()) == 1) {
            log.warn("standard output takes nothing; {} events passed over there so far", passedOver.get());
        }
        return this;
    }

    @Override
    public Appendable append(CharSequence text, int start, int end) {
        return append(text.subSequence(start, end));
    }

    @Override
    public Appendable append(char character) {
        return append(String.valueOf(character));
    }

    private void write() {
        try {
            while (!closing || !waiting.isEmpty()) {
                String line = waiting.poll(LOOK_MS, TimeUnit.MILLISECONDS);
                if (line != null) {
                    out.append(line);
                }
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        } catch (IOException gone) {
            log.warn("events are not written to standard output any more: {}", gone.getMessage());
        }
    }

    /** Writes what waits, if it is taken in time. */
    @Override
    public void close() {
        closing = true;
        try {
            thread.join(lastWordsMs);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
