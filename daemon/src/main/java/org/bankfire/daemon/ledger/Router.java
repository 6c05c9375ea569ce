package org.bankfire.daemon.ledger;

import java.util.Map;
import java.util.function.LongSupplier;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.Pack;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The thread between one source and the ledgers: it decodes the source's frames and hands each forge's part to the ledger
 * that the forge belongs to, in order. A frame that hangs it is skipped by a new thread ({@link LedgerSupervisor}).
 *
 * <p>It never waits for a ledger where the source is shared by many forges ({@link Source#isShared}): what a forge sends
 * beyond its share is passed over, acknowledged and counted. For other sources it waits, and they with it. No ledger ever
 * waits for a router.
 */
public final class Router implements Intake, Supervised, AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(Router.class);

    /** Half a second of 2,000 frames a second: enough to bridge a pause of the collector, and 4 MB of full lines. */
    private static final int WAITING_FRAMES = 1_024;

    private static final long LOOK_MS = 50;
    private static final long STOP_WAIT_MS = 2_000;

    private final Source source;
    private final DeliveryQueue queue = new DeliveryQueue(WAITING_FRAMES);
    private final ForgeRoutes routes;
    private final FrameCounts counts;
    private final Heart heart;
    private volatile boolean stopping;
    private volatile long restarts;
    private volatile Run run;

    /**
     * A router at rest.
     *
     * @param monotonicNanos a clock that never steps
     */
    public Router(Source source, ForgeRoutes routes, SourceCounts counts, LongSupplier monotonicNanos) {
        this.source = source;
        this.routes = routes;
        this.counts = counts.of(source);
        this.heart = new Heart(monotonicNanos);
        this.run = new Run(source.name(), null);
    }

    /** Begins to take what the source delivers. */
    public void start() {
        run.thread.start();
    }

    @Override
    public void put(Delivery delivery) throws InterruptedException {
        queue.put(delivery);
    }

    @Override
    public boolean offer(Delivery delivery, long timeoutMs) throws InterruptedException {
        return queue.offer(delivery, timeoutMs);
    }

    @Override
    public String thread() {
        return "the thread that reads the frames of " + source.name();
    }

    @Override
    public Heart heart() {
        return heart;
    }

    @Override
    public boolean isAlive() {
        return run.thread.isAlive();
    }

    @Override
    public boolean isStopping() {
        return stopping;
    }

    @Override
    public StackTraceElement[] stack() {
        return run.thread.getStackTrace();
    }

    @Override
    public long restarts() {
        return restarts;
    }

    @Override
    @SuppressWarnings("NonAtomicVolatileUpdate") // under the lock; others only read
    public synchronized void replace(String why) {
        if (stopping) {
            return;
        }
        Run hung = run;
        hung.lease.end();
        restarts++;
        Run next = new Run(source.name(), hung.underWay);
        run = next;
        heart.beat();
        next.thread.start();
    }

    /** Hands on what the source has delivered until now, then stops. */
    @Override
    public void close() {
        Run last;
        synchronized (this) {
            stopping = true;
            last = run;
        }
        try {
            last.thread.join(STOP_WAIT_MS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
        if (last.thread.isAlive()) {
            last.lease.end();
            throw new IllegalStateException(thread() + " did not stop within " + STOP_WAIT_MS + " ms");
        }
    }

    /** One run of the thread, until it is stopped or given up. */
    private final class Run {
        private final Lease lease = new Lease();
        private final Thread thread;
        private final @Nullable Delivery blamed;
        private volatile @Nullable Delivery underWay;

        Run(String name, @Nullable Delivery blamed) {
            this.blamed = blamed;
            thread = new Thread(this::work, "router " + name);
            thread.setDaemon(true);
        }

        private void work() {
            try {
                skip();
                while (lease.held() && (!stopping || queue.size() > 0)) {
                    heart.beat();
                    pass();
                }
            } catch (Lease.LeaseEndedException ended) {
                log.info("a thread of {} that had been given up came back and has ended", source.name());
            } catch (InterruptedException interrupted) {
                Thread.currentThread().interrupt();
            } catch (Error grave) {
                log.error("{} ends", Router.this.thread(), grave);
            }
        }

        private void skip() {
            if (blamed != null) {
                String problem = "the daemon hung on this frame and has skipped it";
                counts.countBad(problem);
                log.error("{}: {}: {}", source.name(), problem, LedgerRun.shown(blamed));
                blamed.stored().run();
            }
        }

        private void pass() throws InterruptedException {
            Delivery delivery = queue.poll(LOOK_MS);
            if (delivery == null) {
                return;
            }
            underWay = delivery;
            try {
                route(delivery);
            } catch (BadFrameException bad) {
                refuse(delivery, String.valueOf(bad.getMessage()));
            } catch (Lease.LeaseEndedException ended) {
                throw ended;
            } catch (RuntimeException fault) {
                lease.check();
                log.error("a frame of {} could not be read", source.name(), fault);
                refuse(delivery, String.valueOf(fault.getMessage()));
            }
            underWay = null;
        }

        private void refuse(Delivery delivery, String problem) {
            lease.check();
            LedgerRun.reportBad(source, counts.countBad(problem), problem);
            // Acknowledged too: it would come again for ever.
            delivery.stored().run();
        }

        private void route(Delivery delivery) throws BadFrameException, InterruptedException {
            Pack pack = delivery.pack();
            lease.check();
            Map<String, Pack> parts = ForgePacks.split(pack);
            if (parts.isEmpty()) {
                counts.addGood(1);
                delivery.stored().run();
                return;
            }
            boolean wantsWord = delivery.stored() != Delivery.NO_ACKNOWLEDGEMENT;
            Runnable stored = delivery.stored();
            Runnable dropped = delivery.dropped();
            if (wantsWord && parts.size() > 1) {
                PartedWord word = new PartedWord(delivery, parts.size());
                stored = word::stored;
                dropped = word::dropped;
            }
            int frames = 1;
            for (Map.Entry<String, Pack> part : parts.entrySet()) {
                hand(part.getKey(), new Delivery.Decoded(source, part.getValue(), stored, dropped, frames));
                frames = 0;
            }
        }

        private void hand(String forge, Delivery.Decoded part) throws InterruptedException {
            boolean taken = routes.offer(forge, part, 0);
            while (!taken && !source.isShared()) {
                heart.beat();
                lease.check();
                taken = routes.offer(forge, part, LOOK_MS);
            }
            if (!taken) {
                passOver(forge, part);
            }
        }

        private void passOver(String forge, Delivery.Decoded part) {
            lease.check();
            routes.countPassedOver(forge);
            long number = counts.countPassedOver();
            if (Long.bitCount(number) == 1) {
                log.warn(
                        "{}: forge \"{}\" sends more than can be judged; passed over, {} frames of this source so far",
                        source.name(),
                        forge.replaceAll("[^ -~]", "."),
                        number);
            }
            // Else the broker, which sends few messages ahead of acknowledgements, would hold the other forges back.
            part.stored().run();
        }
    }
}
