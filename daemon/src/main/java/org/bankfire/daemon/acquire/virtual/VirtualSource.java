package org.bankfire.daemon.acquire.virtual;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The virtual forge as a source: its scripted burn as SenML JSON packs, through the same decoding as any other line.
 *
 * <p>At speed 1 the packs carry no time, so that they are of the moment of receipt. At any other speed they carry absolute
 * simulated times that begin at the present and run at that speed: above 1, readings are soon dated ahead of the daemon's
 * clock. Whoever shows them takes the newest reading's time as the chart's right edge and not the clock; ages and "no data"
 * deadlines by the clock mean nothing then.
 */
public final class VirtualSource implements Source {
    private static final Logger LOG = LoggerFactory.getLogger(VirtualSource.class);

    /** More hands than one user has; a button pressed more often before the next pack is refused. */
    private static final int MAX_WAITING_ACTIONS = 16;
    /** When the ledger held it up for longer, it goes on from now and makes up for nothing. */
    private static final long MAX_BEHIND_NANOS = TimeUnit.SECONDS.toNanos(1);
    /** Inside the two seconds that a source has to close. */
    private static final long CLOSE_MS = 1_800;

    private static final double NANOS_PER_S = 1e9;

    private final VirtualSettings settings;
    private final FrameDecoder decoder;
    private final Scenario scenario;
    private final Pace pace;
    private final Supplier<WallTime> receiptClock;
    private final PackWriter writer;
    private boolean plugWasIn = true;
    private boolean stockWasIn;
    private final BlockingQueue<ForgeAction> waiting = new ArrayBlockingQueue<>(MAX_WAITING_ACTIONS);
    private final AtomicLong frames = new AtomicLong();
    private final Object lifecycle = new Object();
    private @Nullable Thread thread;
    private boolean closed;
    private volatile String detail = "not started";
    private volatile boolean running;

    /**
     * A cold forge at the machine's pace.
     *
     * @param decoder of SenML packs without a CRC
     * @param receiptClock what time it is, for the time of receipt and for the first simulated time
     */
    public VirtualSource(VirtualSettings settings, FrameDecoder decoder, Supplier<WallTime> receiptClock) {
        this(settings, decoder, receiptClock, new VirtualForge(settings.seed()), Pace.SYSTEM);
    }

    /**
     * A forge in any state.
     *
     * @param forge handed over: nobody else may touch it from now on
     * @param pace what it waits by
     */
    public VirtualSource(
            VirtualSettings settings,
            FrameDecoder decoder,
            Supplier<WallTime> receiptClock,
            VirtualForge forge,
            Pace pace) {
        this.settings = settings;
        this.decoder = decoder;
        this.scenario = new Scenario(forge);
        this.pace = pace;
        this.receiptClock = receiptClock;
        this.writer = new PackWriter(settings.forge());
    }

    @Override
    public String name() {
        return "virtual " + settings.forge();
    }

    /** Ids of what a hand can do; with spaces for hyphens they are the words for its button. */
    public List<String> actions() {
        return ForgeAction.ids();
    }

    /**
     * Does one of {@link #actions()} before the next pack. Safe on any thread.
     *
     * @throws IllegalArgumentException for any other id
     * @throws IllegalStateException when 16 already wait
     */
    public void trigger(String action) {
        ForgeAction known = ForgeAction.ofId(action)
                .orElseThrow(() -> new IllegalArgumentException("virtual forge " + settings.forge()
                        + " knows no action \"" + action + "\"; allowed are " + String.join(", ", actions())));
        if (!waiting.offer(known)) {
            throw new IllegalStateException(
                    "virtual forge " + settings.forge() + " still has " + MAX_WAITING_ACTIONS + " actions to do");
        }
    }

    @Override
    public void start(Intake queue) {
        synchronized (lifecycle) {
            if (thread != null || closed) {
                throw new IllegalStateException(name() + " was started before");
            }
            running = true;
            detail = "simulating at speed " + settings.speed();
            Thread started = new Thread(() -> run(queue), name());
            started.setDaemon(true);
            started.start();
            thread = started;
        }
    }

    private void run(Intake queue) {
        try {
            simulate(queue);
        } catch (InterruptedException e) {
            // Only close() interrupts.
            detail = "closed";
        } catch (RuntimeException e) {
            LOG.error("{} stopped", name(), e);
            detail = "stopped: " + e;
        } finally {
            running = false;
        }
    }

    private void simulate(Intake queue) throws InterruptedException {
        double stepS = 1 / settings.rateHz();
        long periodNanos = Math.round(NANOS_PER_S * stepS / settings.speed());
        WallTime begin = receiptClock.get();
        long due = pace.nanoTime();
        for (long sequence = 0; ; sequence++) {
            for (ForgeAction action = waiting.poll(); action != null; action = waiting.poll()) {
                scenario.trigger(action);
            }
            scenario.advance(stepS);
            Map<String, String> hands = hands();
            double time = settings.speed() == 1
                    ? Double.NaN
                    : begin.plusSeconds(sequence * stepS).epochSeconds();
            byte[] pack = writer.write(scenario.forge().observe(), sequence, time, hands);
            queue.put(new Delivery.Raw(this, decoder, pack, receiptClock.get(), Delivery.NO_ACKNOWLEDGEMENT));
            frames.incrementAndGet();
            due += periodNanos;
            if (pace.nanoTime() - due > MAX_BEHIND_NANOS) {
                due = pace.nanoTime();
            }
            pace.waitUntil(due);
        }
    }

    /** What was moved since the last look, as a builder would write it down. */
    private Map<String, String> hands() {
        boolean plugIn = scenario.forge().isPlugIn();
        boolean stockIn = scenario.forge().isStockIn();
        Map<String, String> moved = new TreeMap<>();
        if (plugIn != plugWasIn) {
            moved.put(Setting.PLUG, plugIn ? "in" : "out");
        }
        if (stockIn != stockWasIn) {
            moved.put(Note.STOCK, stockIn ? "in" : "out");
        }
        plugWasIn = plugIn;
        stockWasIn = stockIn;
        return moved;
    }

    @Override
    public SourceStatus status() {
        return new SourceStatus(running, detail, frames.get(), 0, 0);
    }

    @Override
    public void close() {
        Thread simulating;
        synchronized (lifecycle) {
            closed = true;
            simulating = thread;
        }
        if (simulating == null) {
            return;
        }
        simulating.interrupt();
        try {
            simulating.join(CLOSE_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
