package org.bankfire.daemon.store.spool;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;
import java.util.random.RandomGenerator;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.NewsEncoder;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.sqlite.LateStretch;
import org.bankfire.daemon.store.sqlite.RefusedLine;
import org.bankfire.daemon.store.sqlite.SpoolCounts;
import org.bankfire.daemon.store.sqlite.SpoolRow;
import org.bankfire.daemon.store.sqlite.SpoolTable;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Brings what waits in the spool to the server, in order, on a thread of its own: one post at a time, so that all that a
 * slow server cannot take yet waits on the disk and not in memory. Rows are deleted after the server's word; whatever ends
 * in between, they are posted again, and are the same points again.
 */
final class Forwarder implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(Forwarder.class);

    /**
     * Lines joined in one post, bytes: some 15,000 readings. Larger ones gain nothing any more, and servers take at least
     * ten times that.
     */
    static final long POST_BYTES = 2_000_000;

    /** Rows joined in one post at most: what a store that commits once a second gathers in eight minutes. */
    static final int POST_ROWS = 500;

    /**
     * After so many posts one late stretch has its turn, however much waits: it costs some questions and a post, so that
     * what waits loses little of the server's time to it.
     */
    static final int POSTS_BEFORE_LATE = 10;

    private static final long POLL_MS = 1_000;
    private static final long STOP_WAIT_MS = 2_000;
    /** What goes on for days is told this often. */
    private static final long TELL_AGAIN_NANOS = TimeUnit.HOURS.toNanos(1);

    private final SpoolTable spool;
    private final ServerTarget server;
    private final NewsEncoder encoder;
    private final Duration keepReadings;
    private final LateJoiner joiner;
    private final Supplier<WallTime> clock;
    private final RetryPace pace;
    private final Thread thread = new Thread(this::run, "forwarder");

    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();

    // All below is guarded by the lock.
    private boolean stopping;
    private volatile boolean started;
    private boolean newsCame;
    private @Nullable WallTime waitingSince;
    private @Nullable WallTime awaySince;
    private long awaySinceNanos;
    private String message = "";
    private long seenDropped;
    private @Nullable WallTime lastDropped;
    private @Nullable WallTime lastRefused;
    private String lastRefusal = "";

    // Of the forwarder's thread alone.
    private int postsSinceLate;
    /** Rows to be joined next: fewer after a post that was refused, so that the one is found that it was refused for. */
    private int mostRows = POST_ROWS;

    private int lastLateChannel = SpoolTable.NO_CHANNEL;
    private long toldRefusalNanos = System.nanoTime() - TELL_AGAIN_NANOS;
    private long toldDropNanos = System.nanoTime() - TELL_AGAIN_NANOS;

    /**
     * Does nothing before {@link #start}.
     *
     * @param local the file that the spool is part of
     * @param encoder made the lines in the spool
     * @param keepReadings how long the server keeps readings
     */
    Forwarder(
            SpoolTable spool,
            StoreQueries local,
            ServerTarget server,
            NewsEncoder encoder,
            Duration keepReadings,
            Supplier<WallTime> clock,
            RandomGenerator random) {
        this.spool = spool;
        this.server = server;
        this.encoder = encoder;
        this.keepReadings = keepReadings;
        this.clock = clock;
        joiner = new LateJoiner(local, server);
        pace = new RetryPace(random);
        seenDropped = spool.counts().dropped();
        thread.setDaemon(true);
    }

    void start() {
        thread.start();
        started = true;
    }

    /** To be called when something was added to the spool. */
    void newsCame() {
        lock.lock();
        try {
            newsCame = true;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    private void newsSeen() {
        lock.lock();
        try {
            newsCame = false;
        } finally {
            lock.unlock();
        }
    }

    ServerLag lag() {
        SpoolCounts counts = spool.counts();
        WallTime now = clock.get();
        lock.lock();
        try {
            noteDropped(counts, now);
            if (started && !stopping && !thread.isAlive()) {
                awaySince = awaySince == null ? now : awaySince;
                message = "the thread that brings readings to the database has ended; restart the daemon";
            }
            WallTime since = counts.nothingWaits() ? null : waitingSince;
            return new ServerLag(
                    counts.rows() + counts.late(),
                    counts.bytes(),
                    since == null ? 0 : Math.max(awayS(), now.secondsSince(since)),
                    Optional.ofNullable(awaySince),
                    message,
                    counts.dropped(),
                    Optional.ofNullable(lastDropped),
                    counts.refused(),
                    Optional.ofNullable(lastRefused),
                    lastRefusal);
        } finally {
            lock.unlock();
        }
    }

    /** By a clock that nobody sets: one that was set back must not make an outage short. */
    private double awayS() {
        return awaySince == null ? 0 : (System.nanoTime() - awaySinceNanos) / 1e9;
    }

    /** Ends the thread; what waits goes on waiting. */
    @Override
    public void close() {
        lock.lock();
        try {
            stopping = true;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
        try {
            thread.join(STOP_WAIT_MS);
            if (thread.isAlive()) {
                thread.interrupt(); // it hangs in a post to a server that does not answer
                thread.join(STOP_WAIT_MS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void run() {
        try {
            while (!stopping()) {
                long waitMs = attempt();
                if (waitMs > 0) {
                    pause(waitMs);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** One step; returns how long to wait before the next. */
    private long attempt() {
        newsSeen();
        try {
            boolean more = step();
            worked();
            return more ? 0 : POLL_MS;
        } catch (StoreException | RuntimeException e) {
            // Whatever it was, the rows are still there and go again.
            LOG.debug("nothing forwarded", e);
            failed(e instanceof StoreException ? String.valueOf(e.getMessage()) : "unexpected failure: " + e);
            return pace.nextMs();
        }
    }

    /** Posts what waits longest, or joins a late stretch when it is its turn; false when nothing waits. */
    private boolean step() throws StoreException {
        List<SpoolRow> rows = spool.oldest(mostRows, POST_BYTES);
        waitingSince(rows.isEmpty() ? null : rows.get(0).made());
        if (server.needsSetUp()) {
            server.setUp(keepReadings);
        }
        if (rows.isEmpty() || postsSinceLate >= POSTS_BEFORE_LATE) {
            postsSinceLate = 0; // before it is tried: one that fails each time must not hold up what waits
            Optional<LateStretch> late = spool.late(lastLateChannel, LateJoiner.MOST_BUCKETS);
            if (late.isPresent()) {
                lastLateChannel = late.get().channelId();
                joinLate(late.get());
                return true;
            }
        }
        if (rows.isEmpty()) {
            return false;
        }
        postsSinceLate++;
        if (rows.size() == 1) {
            post(rows.get(0));
        } else {
            postJoined(rows);
        }
        return true;
    }

    private void postJoined(List<SpoolRow> rows) throws StoreException {
        List<String> lines = new ArrayList<>();
        rows.forEach(row -> lines.addAll(linesLeft(row)));
        try {
            server.write(lines);
        } catch (ServerRefusedException e) {
            LOG.debug("{} rows are posted in parts", rows.size(), e);
            mostRows = rows.size() / 2;
            return;
        }
        spool.remove(rows.stream().map(SpoolRow::id).toList(), List.of());
        mostRows = Math.min(POST_ROWS, 2 * mostRows);
    }

    /** Line by line, if it must be; each line that was taken or refused is done with, whatever comes in between. */
    private void post(SpoolRow row) throws StoreException {
        List<String> lines = linesLeft(row);
        LinePost post = new LinePost(server, clock.get());
        try {
            post.post(lines);
        } finally {
            if (post.done() == lines.size()) {
                spool.remove(List.of(row.id()), post.refused());
            } else if (post.done() > 0) {
                spool.partDone(row.id(), row.done() + post.done(), post.refused());
            }
            tellRefused(post.refused());
        }
        mostRows = post.refused().isEmpty() ? Math.min(POST_ROWS, 2 * mostRows) : 1;
    }

    private List<String> linesLeft(SpoolRow row) {
        List<String> lines = encoder.lines(row.lines());
        return lines.subList(Math.min(row.done(), lines.size()), lines.size());
    }

    private void joinLate(LateStretch stretch) throws StoreException {
        StoreNews news = joiner.join(stretch);
        if (news.isEmpty()) {
            spool.lateDone(stretch);
            return;
        }
        byte[] lines = encoder.encode(news);
        try {
            server.write(encoder.lines(lines));
        } catch (ServerRefusedException e) {
            LOG.debug("late readings of {} are posted in parts", stretch.channel(), e);
            spool.lateWaits(stretch, lines, news.fresh().readings().size());
            return;
        }
        spool.lateDone(stretch);
    }

    private void worked() {
        pace.reset();
        boolean wasAway;
        lock.lock();
        try {
            wasAway = awaySince != null;
            awaySince = null;
            message = "";
        } finally {
            lock.unlock();
        }
        // Outside the lock: a log that is blocked must not hold up who asks how far the server is.
        if (wasAway) {
            LOG.info(
                    "the database takes what comes again; {} readings and entries still wait",
                    spool.counts().rows());
        }
        tellDropped();
    }

    private void failed(String problem) {
        boolean isNew;
        lock.lock();
        try {
            isNew = awaySince == null;
            if (isNew) {
                awaySince = clock.get();
                awaySinceNanos = System.nanoTime();
            }
            message = problem;
        } finally {
            lock.unlock();
        }
        if (isNew) {
            LOG.warn("the database takes nothing; all that is stored waits on the disk for it: {}", problem);
        }
        tellDropped();
    }

    private void tellRefused(List<RefusedLine> refused) {
        if (refused.isEmpty()) {
            return;
        }
        RefusedLine last = refused.get(refused.size() - 1);
        lock.lock();
        try {
            lastRefused = last.at();
            lastRefusal = last.why();
        } finally {
            lock.unlock();
        }
        long now = System.nanoTime();
        if (now - toldRefusalNanos >= TELL_AGAIN_NANOS) {
            toldRefusalNanos = now;
            LOG.warn(
                    "the database refused {} lines, {} so far; they are kept in the local file, and the rest goes on."
                            + " The last one: {} ({})",
                    refused.size(),
                    spool.counts().refused(),
                    last.line(),
                    last.why());
        }
    }

    private void tellDropped() {
        long dropped = spool.counts().dropped();
        lock.lock();
        try {
            noteDropped(spool.counts(), clock.get());
            if (lastDropped == null) {
                return;
            }
        } finally {
            lock.unlock();
        }
        long now = System.nanoTime();
        if (now - toldDropNanos >= TELL_AGAIN_NANOS) {
            toldDropNanos = now;
            LOG.error(
                    "more waits for the database than spool-limit allows: {} readings were set aside so far, the oldest"
                            + " first, and come from the local file later",
                    dropped);
        }
    }

    private void noteDropped(SpoolCounts counts, WallTime now) {
        if (counts.dropped() > seenDropped) {
            seenDropped = counts.dropped();
            lastDropped = now;
        }
    }

    /** @param made when the oldest row was stored; null when there is none, and only late readings may wait, which tell no time */
    private void waitingSince(@Nullable WallTime made) {
        lock.lock();
        try {
            if (made != null) {
                waitingSince = made;
            } else if (waitingSince == null || spool.counts().nothingWaits()) {
                waitingSince = clock.get();
            }
        } finally {
            lock.unlock();
        }
    }

    private boolean stopping() {
        lock.lock();
        try {
            return stopping;
        } finally {
            lock.unlock();
        }
    }

    /** While the server is away, news are no reason to try earlier. */
    private void pause(long ms) throws InterruptedException {
        lock.lock();
        try {
            long left = TimeUnit.MILLISECONDS.toNanos(ms);
            while (!stopping && left > 0 && (awaySince != null || !newsCame)) {
                left = changed.awaitNanos(left);
            }
        } finally {
            lock.unlock();
        }
    }
}
