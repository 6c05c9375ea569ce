package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.bankfire.daemon.notify.Alarms.step;

import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.daemon.acquire.mqtt.BackOff;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.dashboard.source.OutputBook.Condition;
import org.bankfire.dashboard.source.OutputBook.Tested;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** One output over a carrier by hand; time beyond the real one is added by hand. */
class OutputWorkerTest {
    private static final Duration PATIENCE = Duration.ofSeconds(10);
    private static final AlarmState RAISED = AlarmState.UNACKNOWLEDGED;

    /** A peer whose answers the test gives. */
    private static final class HandCarrier implements Carrier {
        final List<String> tried = new CopyOnWriteArrayList<>();
        final List<String> arrived = new CopyOnWriteArrayList<>();
        final Semaphore gate = new Semaphore(Integer.MAX_VALUE / 2);
        volatile @Nullable CarryException answer;
        volatile boolean faulty;

        @Override
        public String carry(Message message) throws CarryException, InterruptedException {
            tried.add(message.subject());
            gate.acquire();
            if (faulty) {
                throw new IllegalStateException("made so");
            }
            CarryException now = answer;
            if (now != null) {
                throw now;
            }
            arrived.add(message.subject());
            return "taken";
        }

        /** From now on every message waits until {@link #open}. */
        void shut() {
            gate.drainPermits();
        }

        void open() {
            gate.release(1_000_000);
        }
    }

    private final HandCarrier carrier = new HandCarrier();
    private final AtomicLong addedNanos = new AtomicLong();
    private @Nullable OutputWorker started;

    @AfterEach
    void stop() {
        carrier.open();
        if (started != null) {
            started.close();
        }
    }

    private OutputWorker start(OutputConfig.Telling settings) {
        OutputWorker worker = new OutputWorker(
                settings,
                "command",
                carrier,
                new Wording(Alarms.NAMES, ZoneId.of("UTC")),
                Alarms.clock(),
                () -> System.nanoTime() + addedNanos.get(),
                new BackOff(new SplittableRandom(1)));
        started = worker;
        worker.start();
        return worker;
    }

    private static OutputConfig.Telling people(Priority least, String... forges) {
        return new OutputConfig.Telling("porch", least, List.of(forges), false, false, 3_600, 86_400);
    }

    private void awaitArrived(String... subjects) {
        await().atMost(PATIENCE).untilAsserted(() -> assertThat(carrier.arrived).containsExactly(subjects));
    }

    @Test
    void onlyWhatIsGraveEnoughAndOfItsForgesIsTold() {
        OutputWorker worker = start(people(Priority.HIGH, "shed"));
        assertThat(worker.state().condition()).isEqualTo(Condition.IDLE);
        worker.take(step(AlarmId.MIXTURE_FLUTTER, RAISED, 0), false);
        worker.take(step("loft", AlarmId.FLAME_OUT, RAISED, 1), false);
        worker.take(step(AlarmId.CHAMBER_HIGH, AlarmState.NORMAL, 2), false);
        worker.take(step(AlarmId.CHAMBER_HIGH, AlarmState.ACKNOWLEDGED, 3), false);
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 4), false);
        awaitArrived("Shed forge: Chamber high");
        assertThat(worker.state().condition()).isEqualTo(Condition.OK);
        assertThat(worker.state().sent()).isEqualTo(1);
        assertThat(worker.state().lastSentAt()).isNotNull();
    }

    @Test
    void whatStoodUnacknowledgedBeforeTheStartIsToldWhateverBecameOfItsCause() {
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.FLAME_OUT, AlarmState.LATCHED_UNACKNOWLEDGED, 0), true);
        worker.take(step(AlarmId.MIXTURE_FLUTTER, RAISED, 1), true);
        worker.take(step(AlarmId.NO_IGNITION, AlarmState.LATCHED_UNACKNOWLEDGED, 2), false);
        awaitArrived("Shed forge: Flame out, its cause has gone, not acknowledged");
    }

    @Test
    void anAttemptThatFailsIsFollowedByAnotherUntilItArrives() {
        carrier.answer = CarryException.passing("the peer is away");
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(Alarms.flameOut(), false);
        await().atMost(PATIENCE).until(() -> worker.state().condition() == Condition.FAILING);
        assertThat(worker.state().detail()).isEqualTo("the peer is away");
        await().atMost(PATIENCE).until(() -> carrier.tried.size() >= 2);
        carrier.answer = null;
        awaitArrived("Shed forge: Flame out");
        await().atMost(PATIENCE).until(() -> worker.state().condition() == Condition.OK);
        assertThat(worker.state().failed()).isZero();
    }

    @Test
    void anAlarmThatReturnedMeanwhileIsToldOnceAsItStandsNow() {
        carrier.answer = CarryException.passing("the peer is away");
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        for (int i = 1; i <= 20; i++) {
            worker.take(step(AlarmId.CHAMBER_HIGH, i % 2 == 0 ? RAISED : AlarmState.RETURNED_UNACKNOWLEDGED, i), false);
        }
        worker.take(step(AlarmId.CHAMBER_HIGH, AlarmState.NORMAL, 21), false);
        carrier.answer = null;
        awaitArrived("Shed forge: Chamber high, back to normal");
        assertThat(worker.state().waiting()).isZero();
    }

    @Test
    void anAlarmThatReturnedWhileItWasOnItsWayIsNotRaisedAgainByTheNextAttempt() {
        carrier.answer = CarryException.passing("the peer hung");
        carrier.shut();
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        worker.take(step(AlarmId.CHAMBER_HIGH, AlarmState.NORMAL, 1), false);
        carrier.open();
        await().atMost(PATIENCE).until(() -> worker.state().condition() == Condition.FAILING);
        carrier.answer = null;
        awaitArrived("Shed forge: Chamber high, back to normal");
    }

    @Test
    void whatIsRefusedForGoodIsNotTriedAgainAndShows() {
        carrier.answer = CarryException.lasting("the peer answered 404");
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(Alarms.flameOut(), false);
        await().atMost(PATIENCE).until(() -> worker.state().failed() == 1);
        assertThat(worker.state().condition()).isEqualTo(Condition.FAILING);
        assertThat(worker.state().detail()).contains("404").contains("given up");
        assertThat(worker.state().waiting()).isZero();
        assertThat(carrier.tried).hasSize(1);
    }

    @Test
    void anAlarmIsGivenUpAfterItsTimeButACriticalOneIsKept() {
        carrier.answer = CarryException.passing("the peer is away");
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        worker.take(Alarms.flameOut(), false);
        addedNanos.addAndGet(TimeUnit.HOURS.toNanos(2));
        worker.take(step(AlarmId.NO_IGNITION, RAISED, 1), false);
        // The critical ones stand before the other, so they have to arrive before it is tried, and given up.
        await().atMost(PATIENCE).until(() -> carrier.tried.size() >= 2);
        assertThat(worker.state().failed()).isZero();
        carrier.answer = null;
        await().atMost(PATIENCE)
                .untilAsserted(
                        () -> assertThat(carrier.arrived).contains("Shed forge: Flame out", "Shed forge: No ignition"));
        carrier.answer = CarryException.passing("the peer is away");
        worker.take(step(AlarmId.SHELL_HIGH, RAISED, 2), false);
        await().atMost(PATIENCE).until(() -> worker.state().waiting() > 0);
        addedNanos.addAndGet(TimeUnit.HOURS.toNanos(2));
        worker.take(step(AlarmId.GAS_LEFT_ON, RAISED, 3), false);
        carrier.answer = null;
        await().atMost(PATIENCE).until(() -> worker.state().waiting() == 0);
        assertThat(carrier.arrived).contains("Shed forge: Gas left on");
    }

    @Test
    void aCriticalAlarmDoesNotWaitForTheNextAttemptAtAnother() {
        carrier.answer = CarryException.passing("busy");
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        // The third wait is 4 s at least.
        await().atMost(Duration.ofSeconds(20)).until(() -> carrier.tried.size() == 3);
        carrier.answer = null;
        long begin = System.nanoTime();
        worker.take(Alarms.flameOut(), false);
        awaitArrived("Shed forge: Flame out", "Shed forge: Chamber high");
        assertThat(Duration.ofNanos(System.nanoTime() - begin)).isLessThan(Duration.ofSeconds(2));
    }

    @Test
    void aPeerThatAsksForPatienceGetsIt() {
        carrier.answer = CarryException.passing("too many", 60);
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        await().atMost(PATIENCE).until(() -> worker.state().condition() == Condition.FAILING);
        carrier.answer = null;
        worker.take(Alarms.flameOut(), false);
        await().during(Duration.ofSeconds(3)).atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        addedNanos.addAndGet(TimeUnit.SECONDS.toNanos(60));
        worker.take(step(AlarmId.SHELL_HIGH, RAISED, 1), false);
        await().atMost(PATIENCE).until(() -> carrier.arrived.size() == 3);
    }

    @Test
    void aFaultOfTheProgramEndsNothing() {
        carrier.faulty = true;
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(Alarms.flameOut(), false);
        await().atMost(PATIENCE).until(() -> worker.state().detail().contains("a fault of the program"));
        carrier.faulty = false;
        awaitArrived("Shed forge: Flame out");
    }

    @Test
    void takingIsImmediateWhateverThePeerDoesAndTheQueueHasItsBound() {
        carrier.shut();
        OutputWorker worker = start(new OutputConfig.Telling("porch", Priority.LOW, List.of(), true, true, 60, 60));
        worker.take(Alarms.flameOut(), false);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        long begin = System.nanoTime();
        for (int i = 0; i < 1_000; i++) {
            worker.take(step("forge-" + i, AlarmId.MIXTURE_FLUTTER, RAISED, i), false);
        }
        assertThat(Duration.ofNanos(System.nanoTime() - begin)).isLessThan(Duration.ofSeconds(1));
        assertThat(worker.state().waiting()).isEqualTo(Waiting.CAPACITY + 1);
        assertThat(worker.state().dropped()).isEqualTo(1_000 - Waiting.CAPACITY);
        assertThat(worker.state().detail()).contains("744 gave way in the full queue");
        carrier.open();
        await().atMost(PATIENCE).until(() -> carrier.arrived.size() == Waiting.CAPACITY + 1);
    }

    @Test
    void aTestIsSentBeforeAllThatWaitsAndSaysWhatCameOfIt() throws Exception {
        carrier.answer = CarryException.passing("wrong password");
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        await().atMost(PATIENCE).until(() -> worker.state().condition() == Condition.FAILING);
        assertThat(worker.test().get(5, TimeUnit.SECONDS)).isEqualTo(new Tested(false, "wrong password"));
        carrier.answer = null;
        assertThat(worker.test().get(5, TimeUnit.SECONDS)).isEqualTo(new Tested(true, "taken"));
        // What had waited goes at once, now that the peer is known to be there.
        awaitArrived("Bankfire: test of the output porch", "Shed forge: Chamber high");
    }

    @Test
    void aTestOfAHangingPeerIsAnsweredAllTheSameAndTestsAskedForAtOnceAreOne() throws Exception {
        carrier.shut();
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(Alarms.flameOut(), false);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        CompletableFuture<Tested> test = worker.test();
        assertThat(worker.test()).isSameAs(test);
        Tested late = test.get(OutputWorker.TEST_WAIT_MS + 2_000, TimeUnit.MILLISECONDS);
        assertThat(late.done()).isFalse();
        assertThat(late.words()).contains("No answer within 10 s");
        carrier.open();
        awaitArrived("Shed forge: Flame out");
        await().during(Duration.ofMillis(300)).until(() -> carrier.tried.size() == 1);
    }

    @Test
    void whatWaitsAtTheEndIsBroughtAwayIfThePeerIsThere() {
        carrier.shut();
        OutputWorker worker = start(people(Priority.HIGH));
        worker.take(Alarms.flameOut(), false);
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        carrier.open();
        worker.close();
        assertThat(carrier.arrived).hasSize(2);
    }
}
