package org.bankfire.daemon.ledger;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Looks at the hearts of the ledgers and routers from a thread of its own and replaces a thread that hangs or has ended.
 * A forge with which in hand it happens twice is set aside: it is not watched any more, and the others go on. When it happens
 * again and again all the same the whole process is given up, so that whoever keeps it (systemd) can start a fresh one.
 *
 * <p>It counts its own looks instead of reading a clock: a process that was stopped as a whole, or a machine too busy for
 * any thread, is not taken for a ledger that hangs.
 */
public final class LedgerSupervisor implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(LedgerSupervisor.class);

    /** What hung is as a rule some thirty calls deep; more would only fill the log. */
    private static final int SHOWN_CALLS = 60;

    /** Once may be a moment of the machine, twice is the forge. */
    private static final int BLAMED_BEFORE = 1;

    /**
     * So many forges at most are set aside within the time that restarts are counted in: each has hung everybody beside it
     * for ten seconds, and what befalls a fourth is hardly a fault of the forges.
     */
    private static final int MOST_SET_ASIDE = 3;

    private static final long STOP_WAIT_MS = 1_000;

    private final List<Watched> watched = new ArrayList<>();
    private final Consumer<String> giveUp;
    private final Pace pace;
    private final CountDownLatch closed = new CountDownLatch(1);
    private final Thread thread = new Thread(this::watch, "ledger supervisor");
    private long looks;
    // When forges were set aside, in looks; never more than MOST_SET_ASIDE.
    private final Deque<Long> setAside = new ArrayDeque<>();

    /** A thread hung or ended, with this forge in hand; empty when none was. */
    private record Fall(long look, String forge) {}

    /** One thread and what was seen of it. */
    private static final class Watched {
        private final Supervised supervised;
        // The latest that a restart answered, without those of forges that were set aside; never more than the pace's
        // most.
        private final Deque<Fall> falls = new ArrayDeque<>();
        private long silentLooks;
        private long lastBeats;

        Watched(Supervised supervised) {
            this.supervised = supervised;
        }
    }

    /**
     * How it looks.
     *
     * @param lookMs between two looks, ms
     * @param hungLooks looks without a beat after which the thread hangs
     * @param startingLooks the same while the process starts, and for how many looks it does
     * @param mostRestarts restarts within {@code withinLooks}; one more ends the process
     * @param withinLooks see there
     */
    public record Pace(long lookMs, int hungLooks, int startingLooks, int mostRestarts, long withinLooks) {
        /**
         * Ten looks of half a second are {@link Heart#HUNG_S}. At the start half a minute: a small computer loads its
         * classes then. Three restarts within ten minutes: each costs five seconds without judgement and leaves a dead
         * thread with some megabytes behind, and a fourth poison or a cause that stays is for a fresh process.
         */
        public static final Pace STANDARD = new Pace(500, 10, 60, 3, 1_200);
    }

    /**
     * A supervisor at rest.
     *
     * @param giveUp ends the process; told why, in words
     */
    public LedgerSupervisor(List<Ledger> ledgers, List<Router> routers, Pace pace, Consumer<String> giveUp) {
        ledgers.forEach(ledger -> watched.add(new Watched(ledger)));
        routers.forEach(router -> watched.add(new Watched(router)));
        this.pace = pace;
        this.giveUp = giveUp;
        thread.setDaemon(true);
    }

    /** Begins to look. */
    public void start() {
        thread.start();
    }

    /** Whether it goes on looking. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    @Override
    public void close() {
        closed.countDown();
        try {
            thread.join(STOP_WAIT_MS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void watch() {
        try {
            while (!closed.await(pace.lookMs, TimeUnit.MILLISECONDS)) {
                if (!look()) {
                    return;
                }
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    /** Looks once at each; false when it has given up. For the thread that watches, or instead of it. */
    boolean look() {
        looks++;
        for (Watched one : watched) {
            if (!look(one)) {
                return false;
            }
        }
        return true;
    }

    private boolean look(Watched one) {
        long beats = one.supervised.heart().beats();
        one.silentLooks = beats == one.lastBeats ? one.silentLooks + 1 : 0;
        one.lastBeats = beats;
        if (one.supervised.isStopping()) {
            return true;
        }
        int patience = looks <= pace.startingLooks ? pace.startingLooks : pace.hungLooks;
        boolean alive = one.supervised.isAlive();
        if (alive && one.silentLooks < patience) {
            return true;
        }
        String why = one.supervised.thread()
                + (alive
                        ? " hung for " + one.silentLooks * pace.lookMs / 1_000.0 + " s and was replaced"
                        : " had ended and was replaced");
        one.silentLooks = 0;
        return replaced(one, why);
    }

    private boolean replaced(Watched one, String why) {
        StackTraceElement[] stack = one.supervised.stack();
        String forge = one.supervised.inHand();
        Deque<Fall> falls = one.falls;
        while (!falls.isEmpty() && looks - falls.getFirst().look() > pace.withinLooks) {
            falls.removeFirst();
        }
        boolean aside = isToBeSetAside(one, forge);
        if (aside) {
            setAside(one, forge);
        } else if (falls.size() >= pace.mostRestarts) {
            // The log may be what hangs: first the end, then the words.
            giveUp.accept(one.supervised.thread() + " hung or ended " + (falls.size() + 1) + " times within "
                    + minutes() + " min; the process ends, to be started afresh");
            log.error("it is given up with the process; it was at\n{}", words(stack));
            return false;
        }
        if (!aside) {
            falls.addLast(new Fall(looks, forge));
        }
        one.supervised.replace(why);
        log.error(
                "{}, for the {}. time since the start; alarms and settings were taken over. It was at\n{}",
                why,
                one.supervised.restarts(),
                words(stack));
        if (aside) {
            log.error("{} is not watched any more; what it sends is kept, and the others are watched on", forge);
        }
        return true;
    }

    /** Whether that forge has done it before, and others are the better for its being set aside. */
    private boolean isToBeSetAside(Watched one, String forge) {
        while (!setAside.isEmpty() && looks - setAside.getFirst() > pace.withinLooks) {
            setAside.removeFirst();
        }
        int watchedForges = watched.stream()
                .mapToInt(any -> any.supervised.watched().size())
                .sum();
        long before =
                one.falls.stream().filter(fall -> fall.forge().equals(forge)).count();
        return before >= BLAMED_BEFORE
                && one.supervised.watched().contains(forge)
                && watchedForges > 1
                && setAside.size() < MOST_SET_ASIDE;
    }

    private void setAside(Watched one, String forge) {
        one.supervised.setAside(
                forge,
                "This forge is not watched: judging it hung the daemon twice within " + minutes()
                        + " minutes. What it sends is still stored. Watch the flame yourself; a restart of the daemon brings"
                        + " the watch back.");
        setAside.addLast(looks);
        // Its falls are answered for good.
        one.falls.removeIf(fall -> fall.forge().equals(forge));
    }

    private long minutes() {
        return pace.withinLooks * pace.lookMs / 60_000;
    }

    private static String words(StackTraceElement[] stack) {
        StringBuilder words = new StringBuilder();
        for (int i = 0; i < Math.min(stack.length, SHOWN_CALLS); i++) {
            words.append("    at ").append(stack[i]).append('\n');
        }
        return stack.length == 0 ? "    no place: it has ended" : words.toString();
    }
}
