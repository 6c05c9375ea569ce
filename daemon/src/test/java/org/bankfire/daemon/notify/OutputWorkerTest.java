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
import java.util.function.LongSupplier;
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

/** One output over a carrier by hand; time is added by hand to the real one, or to none. */
class OutputWorkerTest {
    private static final Duration PATIENCE = Duration.ofSeconds(60);
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
        carrier.answer = null;
        carrier.faulty = false;
        carrier.open();
        if (started != null) {
            started.close();
        }
    }

    private OutputWorker start(OutputConfig.Telling settings) {
        return start(settings, () -> System.nanoTime() + addedNanos.get(), OutputWorker.FAREWELL_MS);
    }

    /** No wait of it ends before time is added: it is known when an attempt is made, however long a test is held up. */
    private OutputWorker startWithoutTime() {
        return start(people(Priority.HIGH), addedNanos::get, OutputWorker.FAREWELL_MS);
    }

    private OutputWorker start(OutputConfig.Telling settings, LongSupplier nanoTime, long farewellMs) {
        OutputWorker worker = new OutputWorker(
                settings,
                "command",
                carrier,
                new Wording(Alarms.NAMES, ZoneId.of("UTC")),
                Alarms.clock(),
                nanoTime,
                new BackOff(new SplittableRandom(1)),
                farewellMs);
        started = worker;
        worker.start();
        return worker;
    }

    private static OutputConfig.Telling people(Priority least, String... forges) {
        return new OutputConfig.Telling("porch", least, List.of(forges), false, false, 3_600, 86_400);
    }

    private void awaitArrived(String... subjects) {
        await().atMost(PATIENCE)
                .untilAsserted(() -> assertThat(List.copyOf(carrier.arrived)).containsExactly(subjects));
    }

    private static void awaitFailing(OutputWorker worker, String detail) {
        await().atMost(PATIENCE).until(() -> worker.state().detail().equals(detail));
        assertThat(worker.state().condition()).isEqualTo(Condition.FAILING);
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
        await().atMost(PATIENCE).until(() -> worker.state().condition() == Condition.OK);
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
        OutputWorker worker = startWithoutTime();
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        awaitFailing(worker, "the peer is away");
        for (int i = 1; i <= 20; i++) {
            worker.take(step(AlarmId.CHAMBER_HIGH, i % 2 == 0 ? RAISED : AlarmState.RETURNED_UNACKNOWLEDGED, i), false);
        }
        worker.take(step(AlarmId.CHAMBER_HIGH, AlarmState.NORMAL, 21), false);
        carrier.answer = null;
        addedNanos.addAndGet(TimeUnit.MINUTES.toNanos(1));
        awaitArrived("Shed forge: Chamber high, back to normal");
        await().atMost(PATIENCE).until(() -> worker.state().waiting() == 0);
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
        OutputWorker worker = startWithoutTime();
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        awaitFailing(worker, "the peer is away");
        carrier.answer = CarryException.passing("the peer is still away");
        worker.take(Alarms.flameOut(), false);
        awaitFailing(worker, "the peer is still away");

        carrier.shut();
        carrier.answer = CarryException.passing("the peer is away for hours");
        addedNanos.addAndGet(TimeUnit.HOURS.toNanos(2));
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 3);
        worker.take(step(AlarmId.NO_IGNITION, RAISED, 1), false);
        carrier.gate.release(1);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 4);
        carrier.answer = CarryException.passing("the peer does not come back");
        carrier.gate.release(1);
        awaitFailing(worker, "the peer does not come back");
        assertThat(worker.state().failed()).isZero();

        // The critical ones stand before the other, so they have to arrive before it is tried, and given up.
        carrier.answer = null;
        carrier.gate.release(3);
        addedNanos.addAndGet(TimeUnit.MINUTES.toNanos(1));
        worker.take(step(AlarmId.GAS_LEFT_ON, RAISED, 2), false);
        await().atMost(PATIENCE).until(() -> carrier.arrived.size() == 3);
        assertThat(carrier.arrived)
                .containsExactlyInAnyOrder(
                        "Shed forge: Flame out", "Shed forge: No ignition", "Shed forge: Gas left on");
        carrier.answer = CarryException.passing("the peer is away");
        carrier.open();
        await().atMost(PATIENCE).until(() -> worker.state().failed() == 1);
        assertThat(worker.state().detail()).contains("given up");
        assertThat(worker.state().waiting()).isZero();
        assertThat(carrier.arrived).hasSize(3);
    }

    @Test
    void aCriticalAlarmDoesNotWaitForTheNextAttemptAtAnother() {
        carrier.answer = CarryException.passing("busy");
        OutputWorker worker = startWithoutTime();
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        awaitFailing(worker, "busy");
        carrier.answer = null;
        worker.take(Alarms.flameOut(), false);
        awaitArrived("Shed forge: Flame out", "Shed forge: Chamber high");
    }

    @Test
    void aCriticalAlarmThatComesDuringAnAttemptAtAnotherDoesNotWaitForItsNextEither() {
        carrier.answer = CarryException.passing("busy");
        carrier.shut();
        OutputWorker worker = startWithoutTime();
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
        worker.take(Alarms.flameOut(), false);
        carrier.open();
        await().atMost(PATIENCE).until(() -> carrier.tried.size() == 2);
        assertThat(carrier.tried).containsExactly("Shed forge: Chamber high", "Shed forge: Flame out");
    }

    @Test
    void aPeerThatAsksForPatienceGetsIt() {
        carrier.answer = CarryException.passing("too many", 60);
        OutputWorker worker = startWithoutTime();
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        awaitFailing(worker, "too many");
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
        for (int i = 0; i < 1_000; i++) {
            worker.take(step("forge-" + i, AlarmId.MIXTURE_FLUTTER, RAISED, i), false);
        }
        assertThat(carrier.tried).as("all that while the peer hung").hasSize(1);
        assertThat(carrier.arrived).isEmpty();
        assertThat(worker.state().waiting()).isEqualTo(Waiting.CAPACITY + 1);
        assertThat(worker.state().dropped()).isEqualTo(1_000 - Waiting.CAPACITY);
        assertThat(worker.state().detail()).contains("744 gave way in the full queue");
        carrier.open();
        await().atMost(PATIENCE).until(() -> carrier.arrived.size() == Waiting.CAPACITY + 1);
    }

    @Test
    void aTestIsSentBeforeAllThatWaitsAndSaysWhatCameOfIt() throws Exception {
        carrier.answer = CarryException.passing("wrong password");
        OutputWorker worker = startWithoutTime();
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        awaitFailing(worker, "wrong password");
        assertThat(worker.test().get(PATIENCE.toSeconds(), TimeUnit.SECONDS))
                .isEqualTo(new Tested(false, "wrong password"));
        carrier.answer = null;
        assertThat(worker.test().get(PATIENCE.toSeconds(), TimeUnit.SECONDS)).isEqualTo(new Tested(true, "taken"));
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
        Tested late = test.get(PATIENCE.toSeconds(), TimeUnit.SECONDS);
        assertThat(late.done()).isFalse();
        assertThat(late.words()).contains("No answer within 10 s");
        carrier.open();
        awaitArrived("Shed forge: Flame out");
        await().during(Duration.ofMillis(300)).atMost(PATIENCE).until(() -> carrier.tried.size() == 1);
    }

    @Test
    void whatWaitsAtTheEndIsBroughtAwayIfThePeerIsThere() {
        carrier.shut();
        OutputWorker worker = start(people(Priority.HIGH), System::nanoTime, PATIENCE.toMillis());
        worker.take(Alarms.flameOut(), false);
        worker.take(step(AlarmId.CHAMBER_HIGH, RAISED, 0), false);
        carrier.open();
        worker.close();
        assertThat(carrier.arrived).hasSize(2);
    }
}
