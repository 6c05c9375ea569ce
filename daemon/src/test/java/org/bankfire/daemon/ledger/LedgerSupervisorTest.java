package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real store, pipeline and monitor; the virtual forge's readings in event time; one channel that hangs whoever keeps it. */
class LedgerSupervisorTest {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final double RATE_HZ = 5;
    private static final WallTime START = WallTime.ofEpochSeconds(1_780_000_000);
    private static final Channel POISON = new Channel("shed", "poison");
    private static final int HUNG_LOOKS = 25;

    /**
     * Looked by hand, when it is known how it stands with the ledger: by itself a supervisor that looks this often would
     * take one for hanging that a busy machine holds up.
     */
    private static final LedgerSupervisor.Pace BY_HAND =
            new LedgerSupervisor.Pace(20, HUNG_LOOKS, HUNG_LOOKS, 3, 100_000);

    /** Sees at once who has ended, and takes nobody for hanging. */
    private static final LedgerSupervisor.Pace PATIENT = new LedgerSupervisor.Pace(20, 100_000, 100_000, 3, 100_000);

    @TempDir
    Path folder;

    private final DeliveryQueue queue = new DeliveryQueue();
    private final LedgerMemory memory = new LedgerMemory();
    private final FakeSource source = new FakeSource();
    private final StringWriter events = new StringWriter();
    private final Map<String, ForgeSnapshot> latest = new ConcurrentHashMap<>();
    private final CountDownLatch antidote = new CountDownLatch(1);
    private final AtomicInteger hung = new AtomicInteger();
    private final AtomicInteger woken = new AtomicInteger();
    private final List<String> gaveUp = new CopyOnWriteArrayList<>();
    private final VirtualForge forge = new VirtualForge(1);
    private SqliteStore store;
    private StoreWriter writer;
    private Ledger ledger;
    private LedgerSupervisor supervisor;
    private volatile Poison poison = Poison.HANGS_BEFORE_IT_IS_KEPT;
    private int sent;

    private enum Poison {
        HANGS_BEFORE_IT_IS_KEPT,
        KILLS_THE_THREAD
    }

    @BeforeEach
    void open() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        List<ForgeConfig> forges = ConfigReader.read(Files.readString(example), "shed.toml", folder)
                .config()
                .forges();
        store = SqliteStore.open(folder.resolve("book.db"));
        writer = new StoreWriter(store, "test");
        EventWriter told = new EventWriter(events);
        LedgerParts.Maker maker = lease -> {
            StoreOutput kept = new StoreOutput(writer, told, lease);
            PipelineOutput output = memory.before(lease, new Poisoned(kept));
            Pipeline pipeline = new Pipeline(forges, output);
            memory.restore(pipeline, (forge, log) -> {});
            return new LedgerParts(pipeline, output, kept, new TellingUpkeep(output));
        };
        ledger = new Ledger(
                maker,
                memory,
                queue,
                new SourceCounts(),
                writer,
                snapshot -> latest.put(snapshot.forge(), snapshot),
                new Heart(System::nanoTime),
                System::nanoTime);
        supervisor = new LedgerSupervisor(List.of(ledger), List.of(), BY_HAND, gaveUp::add);
        ledger.start();
        forge.startAt(1_050);
        forge.setPressure(VirtualForge.WORK_PA);
        forge.openGas();
        forge.light();
    }

    @AfterEach
    void close() throws Exception {
        antidote.countDown();
        supervisor.close();
        ledger.close();
        writer.close();
        store.close();
    }

    @Test
    void aFlameOutStillStandsSinceTheSameMomentAfterTheThreadHungAndWasReplaced() throws Exception {
        burn(120);
        forge.putOut();
        burn(30);
        AlarmStatus before = awaitFlameOut();
        List<AlarmTransition> journal = journal();

        put(POISON, 1, Unit.NONE);
        replaceHung(1);
        int sentBefore = sent;
        burn(4);
        await().atMost(SOON).until(() -> stored(Measured.GAS).size() == sent);
        assertThat(sent).isGreaterThan(sentBefore);
        await().atMost(SOON).until(() -> timeOfSent().equals(shown().time()));

        AlarmStatus after = awaitFlameOut();
        assertThat(after.since()).isEqualTo(before.since());
        assertThat(after.priority()).isEqualTo(before.priority());
        assertThat(after.why()).isEqualTo(before.why());
        assertThat(journal()).as("nothing is annunciated twice").isEqualTo(journal);
        assertThat(countOf("\"alarm\":\"flame-out\",\"state\":\"unacknowledged\""))
                .isOne();
        assertThat(countOf("\"state\":\"ledger-restarted\"")).isOne();
        assertThat(ledger.counts(source).bad())
                .as("the poison is skipped and counted")
                .isOne();
        assertThat(ledger.counts(source).lastProblem()).contains("hung");
        assertThat(stored(POISON)).isEmpty();
        assertThat(hung.get()).as("tried once").isOne();

        // The thread that hung wakes up in the middle of keeping the reading.
        antidote.countDown();
        await().atMost(SOON).until(() -> woken.get() == 1);
        burn(4);
        await().atMost(SOON).until(() -> stored(Measured.GAS).size() == sent);
        assertThat(stored(POISON))
                .as("a thread that was given up keeps nothing")
                .isEmpty();
        assertThat(journal()).isEqualTo(journal);
        assertThat(awaitFlameOut().since()).isEqualTo(before.since());
        assertThat(ledger.restarts()).isOne();
    }

    @Test
    void whatUsersDidOutlivesTheThreadAndIsAskedForOfItsSuccessor() throws Exception {
        burn(120);
        forge.putOut();
        burn(30);
        awaitFlameOut();
        put(POISON, 1, Unit.NONE);
        await().atMost(SOON).until(() -> hung.get() == 1);
        var acknowledged = ledger.request(pipeline -> Objects.requireNonNull(pipeline.lane("shed"))
                .act(AlarmAction.acknowledge(AlarmId.FLAME_OUT, "smith"), timeOfSent()));
        replaceHung(1);
        assertThat(acknowledged.get(SOON.toSeconds(), TimeUnit.SECONDS)).isTrue();
        put(POISON, 2, Unit.NONE);
        replaceHung(2);
        await().atMost(SOON)
                .until(() -> shown().alarms().stream()
                        .anyMatch(alarm ->
                                alarm.alarm() == AlarmId.FLAME_OUT && alarm.state() == AlarmState.ACKNOWLEDGED));
        assertThat(gaveUp).isEmpty();
    }

    @Test
    void aThreadThatEndedIsReplacedToo() throws Exception {
        LedgerSupervisor watching = new LedgerSupervisor(List.of(ledger), List.of(), PATIENT, gaveUp::add);
        supervisor = watching;
        watching.start();
        poison = Poison.KILLS_THE_THREAD;
        put(POISON, 1, Unit.NONE);
        await().atMost(SOON).until(() -> ledger.restarts() == 1);
        burn(2);
        await().atMost(SOON).until(() -> stored(Measured.GAS).size() == sent);
        assertThat(ledger.lastRestart()).contains("had ended");
        assertThat(ledger.counts(source).bad()).isOne();
        await().atMost(SOON).until(ledger::heartBeatsWell);
    }

    @Test
    void afterThreeInAShortTimeTheProcessIsGivenUp() throws Exception {
        for (int i = 1; i <= 3; i++) {
            put(POISON, i, Unit.NONE);
            replaceHung(i);
        }
        put(POISON, 4, Unit.NONE);
        awaitHung(4);
        for (int i = 0; i <= HUNG_LOOKS && gaveUp.isEmpty(); i++) {
            supervisor.look();
        }
        assertThat(gaveUp).singleElement().asString().contains("4 times within", "started afresh");
        assertThat(ledger.restarts()).isEqualTo(3);
    }

    @Test
    void aLedgerThatHasNothingToDoIsNotTakenForOneThatHangs() throws Exception {
        // Twice as many looks as a hang takes, one a beat.
        for (int i = 0; i < 2 * HUNG_LOOKS; i++) {
            long before = ledger.heart().beats();
            await().pollInterval(Duration.ofMillis(5))
                    .atMost(SOON)
                    .until(() -> ledger.heart().beats() != before);
            assertThat(supervisor.look()).isTrue();
        }
        assertThat(ledger.restarts()).isZero();
        await().atMost(SOON).until(ledger::heartBeatsWell);
    }

    private void awaitHung(int times) {
        await().atMost(SOON).until(() -> hung.get() == times);
    }

    /** Once the thread is at the poison, looks until it is replaced. */
    private void replaceHung(int times) {
        awaitHung(times);
        for (int i = 0; i <= HUNG_LOOKS && ledger.restarts() < times; i++) {
            assertThat(supervisor.look()).isTrue();
        }
        assertThat(ledger.restarts()).isEqualTo(times);
    }

    private AlarmStatus awaitFlameOut() {
        List<AlarmStatus> found = new ArrayList<>();
        await().atMost(SOON).until(() -> {
            ForgeSnapshot snapshot = latest.get("shed");
            found.clear();
            if (snapshot != null) {
                snapshot.alarms().stream()
                        .filter(alarm ->
                                alarm.alarm() == AlarmId.FLAME_OUT && alarm.state() == AlarmState.UNACKNOWLEDGED)
                        .forEach(found::add);
            }
            return found.size() == 1;
        });
        return found.get(0);
    }

    private void burn(double seconds) throws InterruptedException {
        for (int i = 0; i < seconds * RATE_HZ; i++) {
            forge.step(1 / RATE_HZ);
            Observation seen = forge.observe();
            sent++;
            WallTime time = timeOfSent();
            queue.put(new Delivery.Decoded(
                    source,
                    new Pack(
                            List.of(
                                    Reading.good(Measured.CHAMBER, seen.chamberC(), Unit.CELSIUS, time, time),
                                    Reading.good(Measured.GAS, seen.gasPa(), Unit.PASCAL, time, time)),
                            List.of(),
                            List.of()),
                    Delivery.NO_ACKNOWLEDGEMENT));
        }
    }

    private void put(Channel channel, double value, Unit unit) throws InterruptedException {
        WallTime time = timeOfSent().plusSeconds(value / 1_000);
        queue.put(new Delivery.Decoded(
                source,
                new Pack(List.of(Reading.good(channel, value, unit, time, time)), List.of(), List.of()),
                Delivery.NO_ACKNOWLEDGEMENT));
    }

    private WallTime timeOfSent() {
        return START.plusSeconds(sent / RATE_HZ);
    }

    private ForgeSnapshot shown() {
        return Objects.requireNonNull(latest.get("shed"));
    }

    private List<Reading> stored(Channel channel) throws Exception {
        List<Reading> readings = new ArrayList<>();
        store.readings(channel, TimeRange.ALL, readings::add);
        return readings;
    }

    private List<AlarmTransition> journal() throws Exception {
        writer.flush(SOON);
        return store.alarmTransitions("shed", TimeRange.ALL);
    }

    private long countOf(String part) {
        return events.toString().lines().filter(line -> line.contains(part)).count();
    }

    private static final class Measured {
        static final Channel CHAMBER = new Channel("shed", "chamber");
        static final Channel GAS = new Channel("shed", "gas");
    }

    /** Hangs, or worse, on one channel; passes everything on. */
    private final class Poisoned implements PipelineOutput {
        private final PipelineOutput next;

        Poisoned(PipelineOutput next) {
            this.next = next;
        }

        @Override
        public void onReading(Reading reading) {
            if (!reading.channel().equals(POISON)) {
                next.onReading(reading);
                return;
            }
            hung.incrementAndGet();
            if (poison == Poison.KILLS_THE_THREAD) {
                throw new StackOverflowError("poison");
            }
            boolean waiting = true;
            while (waiting) {
                try {
                    antidote.await();
                    waiting = false;
                } catch (InterruptedException deaf) {
                    // It hangs.
                    waiting = true;
                }
            }
            woken.incrementAndGet();
            next.onReading(reading);
        }

        @Override
        public void onNote(Note note) {
            next.onNote(note);
        }

        @Override
        public void onSetting(Setting setting) {
            next.onSetting(setting);
        }

        @Override
        public void onAlarm(AlarmTransition transition) {
            next.onAlarm(transition);
        }

        @Override
        public void onBurnBoundary(BurnBoundary boundary) {
            next.onBurnBoundary(boundary);
        }

        @Override
        public void onBurn(Burn burn) {
            next.onBurn(burn);
        }

        @Override
        public void onSource(SourceEvent event) {
            next.onSource(event);
        }
    }

    /** No clock here: time is that of the readings. */
    private record TellingUpkeep(PipelineOutput output) implements Ledger.Upkeep {
        @Override
        public void followClock() {}

        @Override
        public void tick() {}

        @Override
        public void tookOver(double silentS, String why) {
            output.onSource(new SourceEvent("shed", START, SourceEvent.Kind.LEDGER_RESTARTED, silentS, why));
        }
    }

    private static final class FakeSource implements Source {
        @Override
        public String name() {
            return "hand";
        }

        @Override
        public void start(Intake any) {}

        @Override
        public SourceStatus status() {
            return new SourceStatus(true, "", 0, 0, 0);
        }

        @Override
        public void close() {}
    }
}
