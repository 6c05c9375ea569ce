package org.bankfire.daemon.ledger;

import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.monitor.UnwatchedForge;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.Pack;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One run of the ledger thread, from its start until it is stopped or given up. A run that was given up does nothing any
 * more that others see: it looks at its {@link Lease} before each such thing.
 */
final class LedgerRun {
    private static final Logger log = LoggerFactory.getLogger(LedgerRun.class);

    /** Longest wait for a delivery, so that requests and deadlines are looked at in time. */
    private static final long IDLE_WAIT_MS = 25;
    /** Deadlines are looked at this often; they fire at their exact event time whatever this is. */
    private static final long TICK_MS = 200;
    /** No page can show more than fifty snapshots a second. */
    private static final long SNAPSHOT_INTERVAL_MS = 20;
    /** Deliveries between two looks at requests and deadlines. */
    private static final int MAX_BURST = 256;
    /** Of a frame that hung the thread; enough to see what it is, too little to fill a log. */
    private static final int SHOWN_BYTES = 512;

    private final LedgerDesk desk;
    private final Lease lease;
    private final LedgerParts.Maker maker;
    private final @Nullable Takeover takeover;
    private final Thread thread = new Thread(this::work, "ledger");

    private volatile @Nullable Delivery underWay;
    private long lastTickMs;
    private long lastSnapshotMs;
    /** Lanes that say something else than when they were shown last. */
    private final Set<ForgeLane> changed = new LinkedHashSet<>();

    /** When each was shown last. */
    private final Map<ForgeLane, Long> shownMs = new HashMap<>();

    private long faults;

    /**
     * What was going on when the run before hung.
     *
     * @param blamed the delivery that it was at; skipped, or it might hang every run
     * @param untold the transition that it was telling
     * @param silentS for how long it did nothing, s
     * @param why in words
     */
    record Takeover(@Nullable Delivery blamed, @Nullable AlarmTransition untold, double silentS, String why) {}

    LedgerRun(LedgerDesk desk, Lease lease, LedgerParts.Maker maker, @Nullable Takeover takeover) {
        this.desk = desk;
        this.lease = lease;
        this.maker = maker;
        this.takeover = takeover;
        // A thread that was given up must not keep the process from ending; one in charge is waited for.
        thread.setDaemon(true);
    }

    void start() {
        thread.start();
    }

    boolean isAlive() {
        return thread.isAlive();
    }

    StackTraceElement[] stack() {
        return thread.getStackTrace();
    }

    /** Takes away its right to act. */
    void giveUp() {
        lease.end();
    }

    /** The delivery that it is at; null between two. */
    @Nullable
    Delivery underWay() {
        return underWay;
    }

    /** The forge that it is at; empty when it is at none. */
    String inHand() {
        return lease.inHand();
    }

    /** Waits for the thread's end; false when it did not come in time. */
    boolean join(long waitMs) {
        try {
            thread.join(waitMs);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
        return !thread.isAlive();
    }

    private void work() {
        try {
            LedgerParts parts = maker.make(lease);
            desk.nowWatches(parts.pipeline());
            takeOver(parts);
            while (lease.held() && (!desk.isStopping() || desk.queue().size() > 0)) {
                pass(parts);
            }
            runRequests(parts);
            publish();
        } catch (Lease.LeaseEndedException ended) {
            log.info("a ledger thread that had been given up came back and has ended; nothing of it was used");
        } catch (Error grave) {
            // Such as no memory left, or a stack too deep: this thread ends, and its supervisor starts another.
            log.error("the ledger thread ends", grave);
        }
    }

    private void pass(LedgerParts parts) {
        desk.heart().beat();
        try {
            takeBurst(parts);
            runRequests(parts);
            tickWhenDue(parts);
            publishWhenDue();
            lease.putDown();
        } catch (InterruptedException interrupted) {
            lease.check();
            desk.stop();
        } catch (RuntimeException failure) {
            lease.check();
            lease.putDown();
            // Logging and alarms go on: a failure here is a fault of the program, reported and passed over.
            log.error("the ledger met a fault and goes on", failure);
        }
    }

    private void takeOver(LedgerParts parts) {
        if (takeover == null) {
            return;
        }
        parts.upkeep().tookOver(takeover.silentS, takeover.why);
        AlarmTransition untold = takeover.untold;
        if (untold != null) {
            // Perhaps some have heard it: forge, time, alarm and state are its key, so the store keeps it once.
            lease.takeUp(untold.forge());
            parts.output().onAlarm(untold);
            lease.putDown();
        }
        Delivery blamed = takeover.blamed;
        if (blamed != null) {
            String problem = "the daemon hung on this frame and has skipped it";
            desk.counts(blamed.source()).countBad(problem);
            log.error("{}: {}: {}", blamed.source().name(), problem, shown(blamed));
            acknowledge(blamed, desk.writer().mark());
        }
    }

    private void takeBurst(LedgerParts parts) throws InterruptedException {
        Delivery delivery = desk.queue().poll(changed.isEmpty() ? IDLE_WAIT_MS : 1);
        for (int taken = 0; delivery != null; taken++) {
            parts.upkeep().followClock();
            underWay = delivery;
            take(parts, delivery);
            underWay = null;
            lease.putDown();
            desk.heart().beat();
            // One by one: what waits stays in the queue, where another run finds it. A run that was given up while it
            // acknowledged would take a delivery that nobody then judges.
            lease.check();
            delivery = taken < MAX_BURST ? desk.queue().poll(0) : null;
        }
    }

    private void take(LedgerParts parts, Delivery delivery) {
        FrameCounts count = desk.counts(delivery.source());
        long lostBefore = parts.kept().lostLines();
        long mark = delivery.stored() == Delivery.NO_ACKNOWLEDGEMENT
                ? 0
                : desk.writer().mark();
        try {
            Pack pack = delivery.pack();
            noteChanged(parts.pipeline(), pack);
            parts.pipeline().accept(pack);
            lease.check();
            count.addGood(delivery instanceof Delivery.Decoded decoded ? decoded.frames() : 1);
        } catch (BadFrameException bad) {
            lease.check();
            String problem = String.valueOf(bad.getMessage());
            reportBad(delivery.source(), count.countBad(problem), problem);
        } catch (RuntimeException failure) {
            lease.check();
            log.error("a frame of {} could not be taken", delivery.source().name(), failure);
            count.countBad(String.valueOf(failure.getMessage()));
        }
        count.addLostLines(parts.kept().lostLines() - lostBefore);
        // Bad frames are acknowledged too: they would come again for ever.
        acknowledge(delivery, mark);
    }

    private void acknowledge(Delivery delivery, long mark) {
        lease.check();
        if (delivery.stored() != Delivery.NO_ACKNOWLEDGEMENT) {
            desk.writer().whenStored(mark, delivery.stored(), delivery.dropped());
        }
    }

    private void noteChanged(Pipeline pipeline, Pack pack) {
        String last = "";
        for (Reading reading : pack.readings()) {
            String forge = reading.channel().forge();
            if (!forge.equals(last)) {
                noteChanged(pipeline, forge);
                last = forge;
            }
        }
        pack.notes().forEach(note -> noteChanged(pipeline, note.forge()));
        pack.settings().forEach(setting -> noteChanged(pipeline, setting.forge()));
    }

    private void noteChanged(Pipeline pipeline, String forge) {
        ForgeLane lane = pipeline.lane(forge);
        if (lane != null) {
            changed.add(lane);
        }
    }

    /** The first and then ever rarer: a wrong baud rate makes thousands a second. */
    static void reportBad(Source source, long number, String problem) {
        if (Long.bitCount(number) == 1) {
            log.warn("{}: bad frame, {} so far: {}", source.name(), number, problem);
        }
    }

    /** What a delivery holds, for the log: bounded, and nothing in it that a terminal would obey. */
    static String shown(Delivery delivery) {
        if (delivery instanceof Delivery.Raw raw) {
            int length = Math.min(SHOWN_BYTES, raw.bytes().length);
            String text = new String(raw.bytes(), 0, length, StandardCharsets.ISO_8859_1).replaceAll("[^ -~]", ".");
            return String.format(Locale.ROOT, "%d bytes, %s", raw.bytes().length, text);
        }
        Pack pack = ((Delivery.Decoded) delivery).pack();
        String text = String.valueOf(pack).replaceAll("[^ -~]", ".");
        return text.substring(0, Math.min(SHOWN_BYTES, text.length()));
    }

    private void runRequests(LedgerParts parts) {
        Consumer<Pipeline> request = nextRequest();
        while (request != null) {
            request.accept(parts.pipeline());
            lease.putDown();
            changed.addAll(parts.pipeline().lanes());
            desk.heart().beat();
            request = nextRequest();
        }
    }

    private @Nullable Consumer<Pipeline> nextRequest() {
        lease.check();
        return desk.requests().poll();
    }

    private void tickWhenDue(LedgerParts parts) {
        long now = desk.nowMs();
        if (now - lastTickMs >= TICK_MS) {
            lastTickMs = now;
            long alarmsBefore = parts.kept().alarms();
            parts.upkeep().tick();
            lease.putDown();
            noteTicked(parts, parts.kept().alarms() != alarmsBefore);
            for (UnwatchedForge forge : parts.pipeline().unwatched()) {
                lease.check();
                desk.snapshots().accept(forge.snapshot());
            }
        }
    }

    /**
     * While readings come, their snapshots tell what the tick did. One more between two of them would make the page wait
     * for the next: a stream takes only so many a second. And of a thousand forges it would be the most of the work.
     */
    private void noteTicked(LedgerParts parts, boolean alarmsChanged) {
        for (ForgeLane lane : parts.pipeline().lanes()) {
            Long shown = shownMs.get(lane);
            if (alarmsChanged || shown == null || lastTickMs - shown >= TICK_MS) {
                changed.add(lane);
            }
        }
    }

    private void publishWhenDue() {
        long now = desk.nowMs();
        if (!changed.isEmpty() && now - lastSnapshotMs >= SNAPSHOT_INTERVAL_MS) {
            lastSnapshotMs = now;
            publish();
        }
    }

    /** Shows the forges that changed; one that cannot be shown takes none of the others with it. */
    private void publish() {
        for (ForgeLane lane : changed) {
            lease.check();
            lease.takeUp(lane.forge());
            try {
                shownMs.put(lane, desk.nowMs());
                desk.snapshots().accept(lane.monitor().snapshot());
            } catch (RuntimeException fault) {
                lease.check();
                faults++;
                if (Long.bitCount(faults) == 1) {
                    log.error("how {} stands could not be shown, {} such faults so far", lane.forge(), faults, fault);
                }
            }
        }
        lease.putDown();
        changed.clear();
    }
}
