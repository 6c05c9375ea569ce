package org.bankfire.dashboard.live;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Function;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Hands new snapshots to every page that listens. The thread that makes a snapshot only leaves it here; one thread of
 * the hub's own writes to all pages and never waits for any of them, because it writes only what the connection takes
 * at once.
 */
public final class LiveHub implements AutoCloseable {
    /** A few screens a forge in a club of ten; each costs a connection and a buffer of some 10 kB. */
    public static final int MAX_CLIENTS = 32;

    private static final Logger LOG = LoggerFactory.getLogger(LiveHub.class);

    private final ForgeFeed feed;
    private final Function<ForgeSnapshot, byte[]> snapshotJson;
    private final Function<ForgeSnapshot, byte[]> alarmsJson;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition stirred = lock.newCondition();
    // The six below are guarded by the lock. The maps and the set hold one entry a forge.
    private final Map<String, ForgeSnapshot> arrived = new HashMap<>();
    private final Map<String, List<AlarmStatus>> toldAlarms = new HashMap<>();
    private final Set<String> alarmsChanged = new HashSet<>();
    private final List<String> written = new ArrayList<>();
    private final List<LiveClient> clients = new ArrayList<>();
    private boolean stir;
    private volatile boolean open = true;
    private final AtomicLong dropped = new AtomicLong();
    // Only the sender reads and writes these. One entry a forge.
    private final Map<String, byte[]> framed = new HashMap<>();
    private final Thread sender = new Thread(this::send, "dashboard-live");
    private ForgeFeed.@Nullable Subscription subscription;

    /**
     * A hub that does nothing until {@link #start()}.
     *
     * @param snapshotJson a snapshot as the API writes it
     * @param alarmsJson the alarms of a snapshot, for pages that watch another forge
     */
    public LiveHub(
            ForgeFeed feed, Function<ForgeSnapshot, byte[]> snapshotJson, Function<ForgeSnapshot, byte[]> alarmsJson) {
        this.feed = feed;
        this.snapshotJson = snapshotJson;
        this.alarmsJson = alarmsJson;
        sender.setDaemon(true);
    }

    /** Begins to listen to the feed and to send. */
    public void start() {
        subscription = feed.subscribe(this::accept);
        sender.start();
    }

    /** Pages that listen now. */
    public int clients() {
        lock.lock();
        try {
            return clients.size();
        } finally {
            lock.unlock();
        }
    }

    /** Whether a page looks at that very forge now. */
    public boolean isLookedAt(String forge) {
        lock.lock();
        try {
            return clients.stream().anyMatch(client -> client.looksAt(forge));
        } finally {
            lock.unlock();
        }
    }

    /** Pages dropped since the start because they read too slowly. */
    public long droppedClients() {
        return dropped.get();
    }

    /** Tells pages that something was written into a forge's log book. */
    public void announceWritten(String forge) {
        lock.lock();
        try {
            if (!written.contains(forge)) {
                written.add(forge);
            }
            wake();
        } finally {
            lock.unlock();
        }
    }

    /**
     * Turns a request into a listening page.
     *
     * @param forge the forge that it looks at; null for all of them
     * @return false when there are too many already; the response is untouched then
     */
    public boolean open(HttpServletRequest request, HttpServletResponse response, @Nullable String forge)
            throws IOException {
        if (clients() >= MAX_CLIENTS || !open) {
            return false;
        }
        LiveClient client = LiveClient.open(request, response, forge, this::stir);
        lock.lock();
        try {
            // What is published from here on waits for the lock and then finds the page listed, so it misses nothing.
            for (var face : feed.forges()) {
                feed.snapshot(face.description().id()).ifPresent(snapshot -> greet(client, snapshot));
            }
            clients.add(client);
            wake();
        } finally {
            lock.unlock();
        }
        return true;
    }

    private static void greet(LiveClient client, ForgeSnapshot snapshot) {
        if (client.watches(snapshot.forge())) {
            client.offerSnapshot(snapshot);
        } else if (!snapshot.alarms().isEmpty()) {
            client.offerAlarms(snapshot);
        }
    }

    @Override
    public void close() {
        open = false;
        ForgeFeed.Subscription ended = subscription;
        if (ended != null) {
            ended.close();
        }
        stir();
        try {
            sender.join(TimeUnit.SECONDS.toMillis(2));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void accept(ForgeSnapshot snapshot) {
        lock.lock();
        try {
            String forge = snapshot.forge();
            boolean changed = !snapshot.alarms().equals(toldAlarms.put(forge, snapshot.alarms()));
            // Of a thousand forges at ten snapshots a second few are looked at: the others must not wake the sender.
            if (changed || isWatched(forge)) {
                if (changed) {
                    alarmsChanged.add(forge);
                }
                arrived.put(forge, snapshot);
                wake();
            }
        } finally {
            lock.unlock();
        }
    }

    private boolean isWatched(String forge) {
        for (LiveClient client : clients) {
            if (client.watches(forge)) {
                return true;
            }
        }
        return false;
    }

    private void stir() {
        lock.lock();
        try {
            wake();
        } finally {
            lock.unlock();
        }
    }

    private void wake() {
        stir = true;
        stirred.signal();
    }

    private void send() {
        long waitNanos = 0;
        while (open) {
            List<ForgeSnapshot> snapshots;
            Set<String> alarms;
            List<String> logged;
            List<LiveClient> listening;
            lock.lock();
            try {
                await(waitNanos);
                stir = false;
                snapshots = List.copyOf(arrived.values());
                arrived.clear();
                alarms = Set.copyOf(alarmsChanged);
                alarmsChanged.clear();
                logged = List.copyOf(written);
                written.clear();
                listening = List.copyOf(clients);
            } finally {
                lock.unlock();
            }
            snapshots.forEach(snapshot -> offer(snapshot, alarms.contains(snapshot.forge()), listening));
            logged.forEach(forge -> listening.forEach(client -> client.offerWritten(forge)));
            waitNanos = serve(listening);
        }
        lock.lock();
        try {
            clients.forEach(LiveClient::close);
            clients.clear();
        } finally {
            lock.unlock();
        }
    }

    private void await(long nanos) {
        long left = nanos;
        try {
            while (!stir && left > 0 && open) {
                left = stirred.awaitNanos(left);
            }
        } catch (InterruptedException e) {
            // Nobody but close() ends this thread, and it does so by the flag.
            LOG.warn("the live stream's thread was interrupted; it goes on");
        }
    }

    private static void offer(ForgeSnapshot snapshot, boolean newAlarms, List<LiveClient> listening) {
        for (LiveClient client : listening) {
            if (client.watches(snapshot.forge())) {
                client.offerSnapshot(snapshot);
            } else if (newAlarms) {
                client.offerAlarms(snapshot);
            }
        }
    }

    /** Writes what is due; returns the time until the next thing is due, ns. */
    private long serve(List<LiveClient> listening) {
        long now = System.nanoTime();
        long wait = LiveClient.HEARTBEAT_NANOS;
        framed.clear();
        for (LiveClient client : listening) {
            wait = Math.min(wait, client.serve(now, this));
            if (client.isClosed()) {
                remove(client);
            }
        }
        return Math.max(wait, 0);
    }

    private void remove(LiveClient client) {
        if (client.wasTooSlow()) {
            dropped.incrementAndGet();
            LOG.info("a page was dropped from the live stream: it took nothing for too long");
        }
        lock.lock();
        try {
            clients.remove(client);
        } finally {
            lock.unlock();
        }
    }

    /** The event of a snapshot; made once for all pages of a round, for it tells the daemon's time. */
    byte[] frame(ForgeSnapshot snapshot) {
        return framed.computeIfAbsent(snapshot.forge(), forge -> {
            WallTime time = snapshot.time();
            // The id is the event time in microseconds: after a break the page asks for the series from there.
            String head = (time == null ? "" : "id: " + time.epochMicros() + "\n") + "event: snapshot\ndata: ";
            return frame(head, snapshotJson.apply(snapshot));
        });
    }

    byte[] alarmsFrame(ForgeSnapshot snapshot) {
        return frame("event: alarms\ndata: ", alarmsJson.apply(snapshot));
    }

    /** The beat comes from this hub's thread and tells how long ago the judging thread last went round. */
    byte[] heartbeat() {
        return bytes("event: heartbeat\ndata: {\"serverT\":" + feed.now().epochSeconds() + ",\"judgedAgoS\":"
                + feed.judgedAgoS() + "}\n\n");
    }

    static byte[] writtenFrame(String forge) {
        // A forge id holds no character that JSON would escape.
        return bytes("event: written\ndata: {\"forge\":\"" + forge + "\"}\n\n");
    }

    private static byte[] frame(String head, byte[] json) {
        return concat(bytes(head), json, bytes("\n\n"));
    }

    private static byte[] concat(byte[] first, byte[] second, byte[] third) {
        byte[] all = new byte[first.length + second.length + third.length];
        System.arraycopy(first, 0, all, 0, first.length);
        System.arraycopy(second, 0, all, first.length, second.length);
        System.arraycopy(third, 0, all, first.length + second.length, third.length);
        return all;
    }

    private static byte[] bytes(String text) {
        return Objects.requireNonNull(text).getBytes(StandardCharsets.UTF_8);
    }
}
