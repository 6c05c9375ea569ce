package org.bankfire.daemon.acquire.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.RareLog;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Lines from a serial port. A port that is missing, lost or refused is tried again twice a second for as long as the
 * source runs; each line is stamped as it is cut, so no two lines share a receipt time.
 */
public final class SerialSource implements Source {
    private static final Logger LOG = LoggerFactory.getLogger(SerialSource.class);

    /** Logging is to go on within 2 s of the port's return: this leaves room for a slow opening. */
    private static final long RETRY_MS = 500;

    /** One read at most; about 0.35 s of line at 115,200 baud. */
    private static final int READ_BYTES = 4_096;

    /** Wait for room in the queue before looking whether the source was closed. */
    private static final long OFFER_MS = 200;

    private static final long JOIN_MS = 1_500;

    private final SerialSettings settings;
    private final SerialLine.Opener opener;
    private final LineJudge judge;
    private final ReceiptClock clock;
    private final LineCutter cutter = new LineCutter();
    private final RareLog trouble;
    private final RareLog overlong;
    private final RareLog openings;
    private final AtomicBoolean started = new AtomicBoolean();
    private final CountDownLatch closed = new CountDownLatch(1);
    private final AtomicLong frames = new AtomicLong();
    private final AtomicLong discarded = new AtomicLong();
    private final AtomicLong opened = new AtomicLong();
    private volatile Link link = new Link(false, "not started");
    private volatile @Nullable Thread thread;

    /** How it stands with the port: in one piece, so that nobody reads of a lost port that all is well. */
    private record Link(boolean connected, String detail) {}

    /**
     * A source that is yet to be started.
     *
     * @param decoder of the format in {@code settings}; used here only to tell whether anything can be read at all
     */
    public SerialSource(SerialSettings settings, FrameDecoder decoder, ReceiptClock clock) {
        this(settings, decoder, clock, () -> JSerialLine.open(settings));
    }

    SerialSource(SerialSettings settings, FrameDecoder decoder, ReceiptClock clock, SerialLine.Opener opener) {
        this.settings = settings;
        this.opener = opener;
        this.judge = new LineJudge(decoder, settings.format());
        this.clock = clock;
        this.trouble = new RareLog(LOG, clock);
        this.overlong = new RareLog(LOG, clock);
        this.openings = new RareLog(LOG, clock);
    }

    @Override
    public String name() {
        return "serial " + settings.port();
    }

    @Override
    public void start(Intake queue) {
        if (!started.compareAndSet(false, true)) {
            throw new IllegalStateException(name() + " was started already");
        }
        Thread reader = new Thread(() -> run(queue), name());
        reader.setDaemon(true);
        thread = reader;
        reader.start();
    }

    @Override
    public SourceStatus status() {
        Link now = link;
        String doubt = now.connected ? judge.doubt() : "";
        String words = doubt.isEmpty() ? now.detail : doubt + " (" + settings.baud() + " baud now)";
        return new SourceStatus(now.connected, words, frames.get(), discarded.get(), Math.max(0, opened.get() - 1));
    }

    @Override
    public void close() {
        closed.countDown();
        Thread reader = thread;
        if (reader == null || reader == Thread.currentThread()) {
            return;
        }
        try {
            reader.join(JOIN_MS);
            if (reader.isAlive()) {
                LOG.warn("{}: the driver does not return from a read; left to itself", name());
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void run(Intake queue) {
        try {
            do {
                readOnce(queue);
            } while (!closed.await(RETRY_MS, TimeUnit.MILLISECONDS));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            link = new Link(false, "closed");
        }
    }

    /** Opens the line and reads it until it is lost, or not at all. */
    private void readOnce(Intake queue) throws InterruptedException {
        try (SerialLine line = opener.open()) {
            cutter.reset();
            judge.opened();
            if (opened.incrementAndGet() == 1) {
                // jSerialComm unloads itself when the virtual machine ends; reading must have ended before that.
                SerialPort.addShutdownHook(new Thread(this::close, name() + " at exit"));
            }
            link = new Link(true, settings.baud() + " baud");
            openings.info(name() + ": open at " + settings.baud() + " baud");
            readUntilLost(line, queue);
            lost("the port was lost; waiting for its return");
        } catch (SerialFaultException e) {
            lost(e.getMessage());
        } catch (RuntimeException | LinkageError e) {
            // Nothing that a driver or a missing native library throws may end this thread.
            lost(settings.port() + ": the serial library failed: " + e);
        }
    }

    private void lost(@Nullable String why) {
        if (cutter.reset() > 0) {
            discarded.incrementAndGet();
        }
        if (closed.getCount() > 0) {
            link = new Link(false, String.valueOf(why));
            trouble.warn(name() + ": " + why);
        } else {
            link = new Link(false, "closed");
        }
    }

    private void readUntilLost(SerialLine line, Intake queue) throws InterruptedException {
        byte[] buffer = new byte[READ_BYTES];
        LineCutter.Sink sink = new Deliver(queue);
        while (closed.getCount() > 0) {
            int count = line.read(buffer);
            if (count < 0) {
                return;
            }
            judge.read(count);
            cutter.feed(buffer, count, sink);
        }
    }

    /** Hands lines on. A full queue makes it wait, and the line fills the driver's buffer meanwhile. */
    private final class Deliver implements LineCutter.Sink {
        private final Intake queue;
        private boolean inBurst;

        Deliver(Intake queue) {
            this.queue = queue;
        }

        @Override
        public void line(byte[] line) throws InterruptedException {
            inBurst = false;
            WallTime receiptTime = clock.stamp();
            if (!judge.passes(line, receiptTime)) {
                discarded.incrementAndGet();
                return;
            }
            Delivery delivery = new Delivery.Raw(
                    SerialSource.this, judge.decoder(), line, receiptTime, Delivery.NO_ACKNOWLEDGEMENT);
            while (!queue.offer(delivery, OFFER_MS)) {
                if (closed.getCount() == 0) {
                    return;
                }
            }
            frames.incrementAndGet();
        }

        @Override
        public void overlong() {
            discarded.incrementAndGet();
            judge.overlong();
            if (!inBurst) {
                overlong.warn(name() + ": a line over " + LineCutter.LIMIT_BYTES + " bytes was discarded");
            }
            inBurst = true;
        }
    }
}
