package org.bankfire.daemon.ledger;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.function.ToLongFunction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.monitor.ForgeListener;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.monitor.UnwatchedForge;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.ClockStep;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreWriter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What only the daemon can see, told to the monitors as conditions: the clock, the store and the disk. It also tells
 * the monitors the time when no reading comes, so that silence is noticed.
 */
public final class DaemonUpkeep implements Ledger.Upkeep {
    /** A clock that was set is shown for a minute: long enough to be seen, short enough not to bury other alarms. */
    private static final double CLOCK_ALARM_S = 60;

    private static final Logger log = LoggerFactory.getLogger(DaemonUpkeep.class);

    /** A flood lasts: often enough to see how it goes, and rare enough not to be one itself. */
    private static final double PASSED_OVER_EVERY_S = 10;

    private final Pipeline pipeline;
    private final ReceiptClock clock;
    private final ReceiptClock.Steps steps;
    private final StoreWriter writer;
    private final BooleanSupplier diskNearlyFull;
    private final Supplier<Optional<ServerLag>> serverLag;
    private final ServerWatch server = new ServerWatch();
    private final ToLongFunction<String> takePassedOver;
    private final ForgeListener listener;

    private boolean storeFailing;
    private boolean diskFull;
    private WallTime clockAlarmUntil = new WallTime(Long.MIN_VALUE);
    private boolean clockAlarm;
    private WallTime passedOverLooked = new WallTime(0);
    private long faults;

    /**
     * Upkeep of the forges in {@code pipeline}.
     *
     * @param steps of {@code clock}, for the forges of this pipeline alone
     * @param diskNearlyFull a cheap look at the disk of the store
     * @param takePassedOver how many frames of a forge were passed over since it was asked last
     * @param serverLag a cheap look at how far a database server is behind; empty when there is none
     * @param listener told when the ledger thread was replaced
     */
    public DaemonUpkeep(
            Pipeline pipeline,
            ReceiptClock clock,
            ReceiptClock.Steps steps,
            StoreWriter writer,
            BooleanSupplier diskNearlyFull,
            ToLongFunction<String> takePassedOver,
            Supplier<Optional<ServerLag>> serverLag,
            ForgeListener listener) {
        this.serverLag = serverLag;
        this.pipeline = pipeline;
        this.clock = clock;
        this.steps = steps;
        this.writer = writer;
        this.diskNearlyFull = diskNearlyFull;
        this.takePassedOver = takePassedOver;
        this.listener = listener;
    }

    @Override
    public void tookOver(double silentS, String why) {
        WallTime now = clock.stamp();
        for (ForgeLane lane : pipeline.lanes()) {
            listener.onSource(
                    new SourceEvent(lane.forge(), now, SourceEvent.Kind.LEDGER_RESTARTED, silentS, why + "."));
        }
    }

    @Override
    public void tick() {
        followClock();
        WallTime now = clock.stamp();
        forEachLane(lane -> lane.monitor().advance(now));
        tellUnwatched(now);
        tellStore(now);
        tellDisk(now);
        tellServer(now);
        tellPassedOver(now);
        if (clockAlarm && now.isAfter(clockAlarmUntil)) {
            clockAlarm = false;
            condition(AlarmId.CLOCK_STEPPED, false, now, Double.NaN, "the clock has run evenly for a minute");
        }
    }

    @Override
    public void followClock() {
        ClockStep step = steps.take();
        while (step != null) {
            ClockStep told = step;
            forEachLane(lane -> lane.accept(
                    new Note(lane.forge(), told.after(), Note.CLOCK_STEP, Double.toString(told.seconds()))));
            clockAlarm = true;
            clockAlarmUntil = step.after().plusSeconds(CLOCK_ALARM_S);
            condition(
                    AlarmId.CLOCK_STEPPED,
                    true,
                    step.after(),
                    step.seconds(),
                    "the daemon's clock was set by " + step.seconds() + " s, from " + step.before() + " to "
                            + step.after() + "; times before and after do not join");
            step = steps.take();
        }
    }

    private void tellUnwatched(WallTime now) {
        for (UnwatchedForge forge : pipeline.unwatched()) {
            lookAfter(forge.forge(), () -> forge.advance(now));
        }
    }

    private void tellStore(WallTime now) {
        StoreWriter.Health health = writer.health();
        boolean failing = !health.ok();
        if (failing != storeFailing) {
            storeFailing = failing;
            condition(
                    AlarmId.STORE_FAILING,
                    storeFailing,
                    now,
                    (double) health.backlog(),
                    storeFailing
                            ? "readings cannot be stored and wait in memory: " + health.message()
                            : "the store takes readings again; what had waited is stored");
        }
    }

    private void tellPassedOver(WallTime now) {
        if (now.secondsSince(passedOverLooked) < PASSED_OVER_EVERY_S && !now.isBefore(passedOverLooked)) {
            return;
        }
        passedOverLooked = now;
        forEachLane(lane -> {
            long frames = takePassedOver.applyAsLong(lane.forge());
            if (frames > 0) {
                listener.onSource(new SourceEvent(
                        lane.forge(),
                        now,
                        SourceEvent.Kind.FRAMES_PASSED_OVER,
                        (double) frames,
                        "More frames came than can be judged: " + frames + " were passed over."));
            }
        });
    }

    private void tellDisk(WallTime now) {
        boolean nearlyFull = diskNearlyFull.getAsBoolean();
        if (nearlyFull != diskFull) {
            diskFull = nearlyFull;
            condition(
                    AlarmId.DISK_NEARLY_FULL,
                    diskFull,
                    now,
                    Double.NaN,
                    diskFull
                            ? "the disk of the log book is nearly full: make room or shorten keep-readings"
                            : "the disk of the log book has room again");
        }
    }

    private void tellServer(WallTime now) {
        serverLag.get().ifPresent(lag -> {
            for (ServerWatch.Word word : server.look(lag, now)) {
                condition(AlarmId.DATABASE_UNREACHABLE, word.active(), now, word.value(), word.why());
            }
        });
    }

    private void condition(AlarmId alarm, boolean active, WallTime now, double value, String why) {
        forEachLane(lane -> lane.monitor().condition(alarm, active, now, value, why));
    }

    private void forEachLane(Consumer<ForgeLane> what) {
        for (ForgeLane lane : pipeline.lanes()) {
            lookAfter(lane.forge(), () -> what.accept(lane));
        }
    }

    /** A forge whose monitor fails takes none of the others with it. */
    private void lookAfter(String forge, Runnable what) {
        pipeline.takeUp(forge);
        try {
            what.run();
        } catch (Lease.LeaseEndedException ended) {
            throw ended;
        } catch (RuntimeException fault) {
            faults++;
            // The first and then ever rarer: what fails at one look may fail at each.
            if (Long.bitCount(faults) == 1) {
                log.error("{} could not be looked after, {} such faults so far", forge, faults, fault);
            }
        }
        pipeline.putDown();
    }
}
