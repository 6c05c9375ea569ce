package org.bankfire.daemon.acquire.replay;

import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Collectors;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.Pack;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Recorded burns as a source: packs in event time, at a multiple of the speed at which they were recorded or as fast as
 * the queue takes them. It ends with its files; bad lines are counted and passed over.
 */
public final class ReplaySource implements Source {
    private static final Logger LOG = LoggerFactory.getLogger(ReplaySource.class);
    /** Interrupting ends every wait at once; reading one line is all that remains. */
    private static final long CLOSE_WAIT_MS = 1_500;
    /** Problems told one by one; a file of another kind would flood the log. The rest is counted. */
    private static final int MAX_TOLD_PROBLEMS = 20;

    private static final double NANOS_PER_MICRO = 1_000;
    /** A year: longer gaps of event time are no use to wait for, and would overflow at low speed. */
    private static final double LONGEST_WAIT_NANOS = 365.0 * 86_400 * 1e9;

    private final ReplaySettings settings;
    private final Pacer pacer;
    private final String name;
    private final AtomicLong frames = new AtomicLong();
    private final AtomicLong discarded = new AtomicLong();
    private volatile boolean connected;
    private volatile String detail = "not started";
    private volatile boolean closing;
    private @Nullable Thread thread;

    /** A source that paces itself by the machine's clock. */
    public ReplaySource(ReplaySettings settings) {
        this(settings, Pacer.SYSTEM);
    }

    ReplaySource(ReplaySettings settings, Pacer pacer) {
        this.settings = settings;
        this.pacer = pacer;
        this.name = "replay "
                + settings.files().stream()
                        .map(ReplaySource::shortName)
                        .limit(3)
                        .collect(Collectors.joining(", "))
                + (settings.files().size() > 3 ? " …" : "");
    }

    private static String shortName(Path file) {
        Path last = file.getFileName();
        return last == null ? file.toString() : last.toString();
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public synchronized void start(Intake queue) {
        if (thread != null) {
            throw new IllegalStateException(name + " is started already");
        }
        detail = "opening";
        Thread started = new Thread(() -> run(queue), name);
        started.setDaemon(true);
        thread = started;
        started.start();
    }

    private void run(Intake queue) {
        try (RecordedBurnReader reader = RecordedBurnReader.open(settings.files(), this::told)) {
            connected = true;
            detail = "replaying";
            deliver(reader, queue);
            detail = closing
                    ? "stopped"
                    : "finished after " + frames.get() + " packs, " + discarded.get() + " bad lines";
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            detail = "stopped";
        } catch (IOException e) {
            detail = String.valueOf(e.getMessage());
            LOG.error("{} ended: {}", name, e.toString());
        } finally {
            connected = false;
        }
    }

    private void deliver(RecordedBurnReader reader, Intake queue) throws IOException, InterruptedException {
        WallTime firstTime = null;
        long startNanos = 0;
        for (Pack pack = reader.next(); pack != null && !closing; pack = reader.next()) {
            WallTime time = timeOf(pack);
            if (firstTime == null) {
                firstTime = time;
                startNanos = pacer.nanoTime();
            }
            double dueNanos = (time.epochMicros() - firstTime.epochMicros()) * NANOS_PER_MICRO / settings.speed();
            double waitNanos = dueNanos - (pacer.nanoTime() - startNanos);
            if (waitNanos > 0) {
                pacer.sleep((long) Math.min(waitNanos, LONGEST_WAIT_NANOS));
            }
            queue.put(new Delivery.Decoded(this, pack, Delivery.NO_ACKNOWLEDGEMENT));
            frames.incrementAndGet();
        }
    }

    /** All in a pack of the reader has one time, and no such pack is empty. */
    private static WallTime timeOf(Pack pack) {
        if (!pack.readings().isEmpty()) {
            return pack.readings().get(0).sourceTime();
        }
        return pack.notes().isEmpty()
                ? pack.settings().get(0).time()
                : pack.notes().get(0).time();
    }

    private RecordingProblem.Answer told(RecordingProblem problem) {
        if (discarded.incrementAndGet() <= MAX_TOLD_PROBLEMS) {
            LOG.warn("{}", problem);
        }
        return RecordingProblem.Answer.CONTINUE;
    }

    @Override
    public SourceStatus status() {
        return new SourceStatus(connected, detail, frames.get(), discarded.get(), 0);
    }

    @Override
    public synchronized void close() {
        closing = true;
        Thread running = thread;
        if (running == null) {
            return;
        }
        running.interrupt();
        try {
            running.join(CLOSE_WAIT_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
