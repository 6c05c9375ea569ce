package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
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
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Several forges on one ledger thread with a real store, pipeline and upkeep; judging the channel "poison" hangs. */
class SetAsideTest {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final List<String> FORGES = List.of("shed", "quarry", "loft", "cellar", "yard");
    /** A fiftieth of the daemon's own, so that a test takes as much less. */
    private static final LedgerSupervisor.Pace QUICK = new LedgerSupervisor.Pace(20, 25, 25, 3, 100_000);

    @TempDir
    Path folder;

    private final ForgeQueue queue = new ForgeQueue(FORGES, ForgeQueue.Limits.STANDARD);
    private final LedgerMemory memory = new LedgerMemory();
    private final FakeSource source = new FakeSource();
    private final Map<String, ForgeSnapshot> latest = new ConcurrentHashMap<>();
    private final CountDownLatch antidote = new CountDownLatch(1);
    private final List<String> gaveUp = new CopyOnWriteArrayList<>();
    private final ReceiptClock clock =
            new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
    private final List<AutoCloseable> toClose = new ArrayList<>();
    private final List<ForgeConfig> forges = new ArrayList<>();
    private SqliteStore store;
    private StoreWriter writer;
    private int sent;

    @BeforeEach
    void open() throws Exception {
        String shed = Files.readString(Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml"));
        for (String forge : FORGES) {
            forges.addAll(ConfigReader.read(shed.replace("id = \"shed\"", "id = \"" + forge + "\""), "x.toml", folder)
                    .config()
                    .forges());
        }
        store = SqliteStore.open(folder.resolve("book.db"));
        writer = new StoreWriter(store, "test");
    }

    private LedgerParts parts(int watched, Lease lease) {
        StoreOutput kept = new StoreOutput(writer, new EventWriter(Writer.nullWriter()), lease);
        PipelineOutput output = memory.before(lease, new Poisoned(kept));
        Pipeline pipeline = new Pipeline(
                forges.subList(0, watched),
                output,
                new Pipeline.Aside(memory.aside(), memory.before(lease, kept)),
                lease);
        memory.restore(pipeline, (forge, log) -> {});
        DaemonUpkeep upkeep = new DaemonUpkeep(
                pipeline, clock, clock.follow(), writer, () -> false, queue::takePassedOver, Optional::empty, output);
        return new LedgerParts(pipeline, output, kept, upkeep);
    }

    /** A ledger that watches the first so many forges, and its supervisor. */
    private Ledger start(int watched) {
        Ledger ledger = new Ledger(
                lease -> parts(watched, lease),
                memory,
                queue,
                new SourceCounts(),
                writer,
                snapshot -> latest.put(snapshot.forge(), snapshot),
                new Heart(System::nanoTime),
                System::nanoTime);
        LedgerSupervisor supervisor = new LedgerSupervisor(List.of(ledger), List.of(), QUICK, gaveUp::add);
        toClose.add(ledger);
        toClose.add(supervisor);
        ledger.start();
        supervisor.start();
        return ledger;
    }

    @AfterEach
    void close() throws Exception {
        antidote.countDown();
        for (int i = toClose.size() - 1; i >= 0; i--) {
            toClose.get(i).close();
        }
        writer.close();
        store.close();
    }

    @Test
    void aForgeThatHangsTheThreadTwiceIsKeptAndNotWatchedAndTheOthersGoOn() throws Exception {
        Ledger ledger = start(2);
        for (int i = 0; i < 6; i++) {
            put("quarry", "poison", i);
            put("quarry", "chamber", 900 + i);
            put("shed", "chamber", 800 + i);
        }
        // Of six frames that would hang it two do; what the forge sends from then on is stored, poison too.
        await().atMost(SOON).until(() -> stored("quarry", "poison").size() == 4);
        await().atMost(SOON).until(() -> stored("quarry", "chamber").size() == 6);
        await().atMost(SOON).until(() -> stored("shed", "chamber").size() == 6);
        assertThat(ledger.restarts()).isEqualTo(2);
        assertThat(gaveUp).isEmpty();
        assertThat(ledger.unwatched()).containsOnlyKeys("quarry");

        AlarmStatus lost = await().atMost(SOON)
                .until(() -> standing("quarry"), Optional::isPresent)
                .orElseThrow();
        assertThat(lost.state()).isEqualTo(AlarmState.UNACKNOWLEDGED);
        assertThat(lost.priority()).isEqualTo(Priority.CRITICAL);
        assertThat(lost.why()).contains("not watched", "still stored", "restart");
        assertThat(chamberC("quarry")).isNaN();
        await().atMost(SOON).until(() -> chamberC("shed") == 805);
        assertThat(standing("shed")).isEmpty();

        // Another forge may hang it as often as ever before the process ends, and nobody is called anew.
        put("shed", "poison", 6);
        await().atMost(SOON).until(() -> ledger.restarts() == 3);
        put("shed", "chamber", 810);
        await().atMost(SOON).until(() -> chamberC("shed") == 810);
        assertThat(journal("quarry")).extracting(AlarmTransition::state).containsExactly(AlarmState.UNACKNOWLEDGED);

        var acknowledged = ledger.request(pipeline ->
                pipeline.act("quarry", AlarmAction.acknowledge(AlarmId.WATCH_LOST, "smith"), clock.stamp()));
        assertThat(acknowledged.get(SOON.toSeconds(), TimeUnit.SECONDS)).isTrue();
        await().atMost(SOON)
                .until(() -> standing("quarry")
                        .map(AlarmStatus::state)
                        .filter(AlarmState.ACKNOWLEDGED::equals)
                        .isPresent());
        var zero = ledger.request(pipeline -> pipeline.captureZero("quarry", "gas", clock.stamp()));
        assertThat(zero.get(SOON.toSeconds(), TimeUnit.SECONDS)).contains("not watched");
        writer.flush(SOON);
        assertThat(store.notes("quarry", TimeRange.ALL)).extracting(Note::name).containsExactly("acknowledge");
        assertThat(gaveUp).isEmpty();
    }

    @Test
    void theLastForgeThatIsWatchedIsNotSetAsideButTheProcessIsGivenUp() throws Exception {
        Ledger ledger = start(2);
        for (int i = 0; i < 6; i++) {
            put("quarry", "poison", i);
        }
        await().atMost(SOON).until(() -> ledger.unwatched().containsKey("quarry"));
        for (int i = 0; i < 6; i++) {
            put("shed", "poison", i);
        }
        await().atMost(SOON).until(() -> !gaveUp.isEmpty());
        assertThat(ledger.unwatched()).containsOnlyKeys("quarry");
        assertThat(gaveUp).singleElement().asString().contains("4 times within");
    }

    @Test
    void whatBefallsAFourthForgeIsNoFaultOfTheForges() throws Exception {
        Ledger ledger = start(5);
        for (String forge : FORGES.subList(0, 3)) {
            put(forge, "poison", 1);
            put(forge, "poison", 2);
            await().atMost(SOON).until(() -> ledger.unwatched().containsKey(forge));
        }
        for (int i = 0; i < 6; i++) {
            put("cellar", "poison", i);
        }
        await().atMost(SOON).until(() -> !gaveUp.isEmpty());
        assertThat(ledger.unwatched()).hasSize(3);
        assertThat(gaveUp).singleElement().asString().contains("4 times within");
    }

    private void put(String forge, String channel, double value) throws InterruptedException {
        sent++;
        WallTime time = clock.stamp().plusSeconds(sent / 1_000.0);
        Unit unit = channel.equals("chamber") ? Unit.CELSIUS : Unit.NONE;
        Pack pack = new Pack(
                List.of(Reading.good(new Channel(forge, channel), value, unit, time, time)), List.of(), List.of());
        assertThat(queue.offer(forge, new Delivery.Decoded(source, pack, Delivery.NO_ACKNOWLEDGEMENT), 0))
                .isTrue();
    }

    private double chamberC(String forge) {
        ForgeSnapshot shown = latest.get(forge);
        Reading chamber = shown == null ? null : shown.chamber();
        return chamber == null ? Double.NaN : chamber.value();
    }

    private Optional<AlarmStatus> standing(String forge) {
        ForgeSnapshot shown = latest.get(forge);
        return shown == null
                ? Optional.empty()
                : shown.alarms().stream()
                        .filter(alarm -> alarm.alarm() == AlarmId.WATCH_LOST)
                        .findFirst();
    }

    private List<AlarmTransition> journal(String forge) throws Exception {
        writer.flush(SOON);
        return store.alarmTransitions(forge, TimeRange.ALL).stream()
                .filter(step -> step.alarm() == AlarmId.WATCH_LOST)
                .toList();
    }

    private List<Reading> stored(String forge, String channel) throws Exception {
        List<Reading> readings = new ArrayList<>();
        store.readings(new Channel(forge, channel), TimeRange.ALL, readings::add);
        return readings;
    }

    /** Hangs whoever keeps the channel "poison" of a forge that is judged; passes everything else on. */
    private final class Poisoned implements PipelineOutput {
        private final PipelineOutput next;

        Poisoned(PipelineOutput next) {
            this.next = next;
        }

        @Override
        public void onReading(Reading reading) {
            boolean hangs = reading.channel().name().equals("poison");
            while (hangs) {
                try {
                    antidote.await();
                    hangs = false;
                } catch (InterruptedException deaf) {
                    // It hangs.
                    hangs = true;
                }
            }
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
