package org.bankfire.dashboard.live;

import jakarta.servlet.AsyncContext;
import jakarta.servlet.AsyncEvent;
import jakarta.servlet.AsyncListener;
import jakarta.servlet.ServletOutputStream;
import jakarta.servlet.WriteListener;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.jspecify.annotations.Nullable;

/**
 * One page on the live stream. What waits for it is only the latest of each forge, so a slow page skips snapshots and
 * never makes the daemon keep them.
 */
final class LiveClient {
    /** Half of what the page waits for before it says that the daemon is gone, with one to spare. */
    static final long HEARTBEAT_NANOS = TimeUnit.SECONDS.toNanos(2);

    // Some ten times a second is as often as a reader can follow, and as sources usually send; a little shorter than
    // their 100 ms, so that a source with jitter is not held back.
    static final long LEAST_GAP_NANOS = TimeUnit.MILLISECONDS.toNanos(90);
    // After this the page has long raised its own alarm and opens another stream.
    static final long LONGEST_BLOCK_NANOS = TimeUnit.SECONDS.toNanos(5);

    private final @Nullable String forge;
    private final AsyncContext async;
    private final ServletOutputStream out;
    // Waiting, latest of each forge; only touched before the client is listed and by the hub's thread afterwards.
    private final Map<String, ForgeSnapshot> snapshots = new LinkedHashMap<>();
    private final Map<String, ForgeSnapshot> alarms = new LinkedHashMap<>();
    private final Set<String> written = new LinkedHashSet<>();
    // At most one round: a heartbeat and one frame of each waiting kind and forge.
    private final Deque<byte[]> round = new ArrayDeque<>();
    private boolean unflushed;
    private long lastSentNanos;
    private long lastHeartbeatNanos;
    private long blockedSinceNanos;
    private boolean blocked;
    private volatile boolean closed;
    private boolean tooSlow;

    private LiveClient(@Nullable String forge, AsyncContext async, ServletOutputStream out) {
        this.forge = forge;
        this.async = async;
        this.out = out;
        long now = System.nanoTime();
        lastSentNanos = now - LEAST_GAP_NANOS;
        // The first heartbeat goes at once and opens the stream even when there is nothing to tell yet.
        lastHeartbeatNanos = now - HEARTBEAT_NANOS;
    }

    /** Makes the response a stream; {@code stir} wakes the hub when the connection takes bytes again. */
    static LiveClient open(
            HttpServletRequest request, HttpServletResponse response, @Nullable String forge, Runnable stir)
            throws IOException {
        response.setStatus(HttpServletResponse.SC_OK);
        response.setContentType("text/event-stream");
        response.setCharacterEncoding("UTF-8");
        response.setHeader("Cache-Control", "no-store");
        // Reverse proxies hold back streams unless told.
        response.setHeader("X-Accel-Buffering", "no");
        AsyncContext async = request.startAsync();
        async.setTimeout(0);
        LiveClient client = new LiveClient(forge, async, response.getOutputStream());
        async.addListener(client.new Ending());
        client.out.setWriteListener(client.new Writable(stir));
        return client;
    }

    boolean watches(String id) {
        return forge == null || forge.equals(id);
    }

    /** Whether that forge, and not all of them, is what its page looks at. */
    boolean looksAt(String id) {
        return id.equals(forge);
    }

    void offerSnapshot(ForgeSnapshot snapshot) {
        snapshots.put(snapshot.forge(), snapshot);
    }

    void offerAlarms(ForgeSnapshot snapshot) {
        alarms.put(snapshot.forge(), snapshot);
    }

    void offerWritten(String id) {
        written.add(id);
    }

    boolean isClosed() {
        return closed;
    }

    boolean wasTooSlow() {
        return tooSlow;
    }

    /** Writes what is due and what the connection takes; returns the time until the next thing is due, ns. */
    long serve(long nowNanos, LiveHub hub) {
        if (closed) {
            return HEARTBEAT_NANOS;
        }
        try {
            if (round.isEmpty() && !unflushed) {
                fillRound(nowNanos, hub);
            }
            drain(nowNanos);
        } catch (IOException | IllegalStateException e) {
            // The page has gone; it opens another stream when it comes back.
            close();
        }
        return untilDue(nowNanos);
    }

    private void fillRound(long nowNanos, LiveHub hub) {
        if (nowNanos - lastHeartbeatNanos >= HEARTBEAT_NANOS) {
            round.add(hub.heartbeat());
            lastHeartbeatNanos = nowNanos;
        }
        if (nowNanos - lastSentNanos >= LEAST_GAP_NANOS && hasNews()) {
            snapshots.values().forEach(snapshot -> round.add(hub.frame(snapshot)));
            alarms.values().forEach(snapshot -> round.add(hub.alarmsFrame(snapshot)));
            written.forEach(id -> round.add(LiveHub.writtenFrame(id)));
            snapshots.clear();
            alarms.clear();
            written.clear();
            // One gap of credit: a send that came late must not make the next one late too.
            lastSentNanos = Math.max(lastSentNanos + LEAST_GAP_NANOS, nowNanos - LEAST_GAP_NANOS);
        }
    }

    private void drain(long nowNanos) throws IOException {
        while ((!round.isEmpty() || unflushed) && out.isReady()) {
            blocked = false;
            byte[] frame = round.poll();
            if (frame == null) {
                unflushed = false;
                out.flush();
            } else {
                unflushed = true;
                out.write(frame);
            }
        }
        if (!round.isEmpty() || unflushed) {
            if (!blocked) {
                blocked = true;
                blockedSinceNanos = nowNanos;
            } else if (nowNanos - blockedSinceNanos >= LONGEST_BLOCK_NANOS) {
                tooSlow = true;
                close();
            }
        } else {
            blocked = false;
        }
    }

    private boolean hasNews() {
        return !snapshots.isEmpty() || !alarms.isEmpty() || !written.isEmpty();
    }

    private long untilDue(long nowNanos) {
        long due = lastHeartbeatNanos + HEARTBEAT_NANOS - nowNanos;
        if (blocked) {
            return Math.max(blockedSinceNanos + LONGEST_BLOCK_NANOS - nowNanos, LEAST_GAP_NANOS);
        }
        return hasNews() ? Math.min(due, lastSentNanos + LEAST_GAP_NANOS - nowNanos) : due;
    }

    void close() {
        if (!closed) {
            closed = true;
            try {
                async.complete();
            } catch (IllegalStateException alreadyOver) {
                // The container ended it first.
            }
        }
    }

    /** Hears from the container that the stream is over. */
    private final class Ending implements AsyncListener {
        @Override
        public void onComplete(AsyncEvent event) {
            closed = true;
        }

        @Override
        public void onTimeout(AsyncEvent event) {
            close();
        }

        @Override
        public void onError(AsyncEvent event) {
            close();
        }

        @Override
        public void onStartAsync(AsyncEvent event) {
            // Nothing starts it anew.
        }
    }

    /** Hears from the container that the connection takes bytes again. */
    private final class Writable implements WriteListener {
        private final Runnable stir;

        private Writable(Runnable stir) {
            this.stir = stir;
        }

        @Override
        public void onWritePossible() {
            stir.run();
        }

        @Override
        public void onError(Throwable failure) {
            close();
            stir.run();
        }
    }
}
