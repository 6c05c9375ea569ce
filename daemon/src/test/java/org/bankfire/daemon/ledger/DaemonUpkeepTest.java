package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.store.RecordingStore;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What only the daemon sees becomes an alarm of every forge, with its reason, and goes when its cause does. */
class DaemonUpkeepTest {
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    @TempDir
    Path folder;

    private final RecordingStore store = new RecordingStore();
    private final StoreWriter writer = new StoreWriter(store, "test");
    private long wallMicros = 1_772_359_212_000_000L;
    private long nanos;
    private boolean diskFull;
    private Optional<ServerLag> lag = Optional.empty();
    private double chamberC = 20;
    private Pipeline pipeline = new Pipeline(List.of(), new StoreOutput(writer, new EventWriter(Writer.nullWriter())));
    private DaemonUpkeep upkeep = upkeep();

    private DaemonUpkeep upkeep() {
        ReceiptClock clock = new ReceiptClock(() -> new WallTime(wallMicros), () -> new MonotonicTime(nanos));
        return new DaemonUpkeep(
                pipeline,
                clock,
                clock.follow(),
                writer,
                () -> diskFull,
                forge -> 0,
                () -> lag,
                new StoreOutput(writer, new EventWriter(Writer.nullWriter())));
    }

    @BeforeEach
    void aForge() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        pipeline = new Pipeline(
                ConfigReader.read(Files.readString(example), "shed.toml", folder)
                        .config()
                        .forges(),
                new StoreOutput(writer, new EventWriter(Writer.nullWriter())));
        upkeep = upkeep();
        upkeep.tick();
    }

    @AfterEach
    void close() {
        writer.close(Duration.ofMillis(1));
    }

    @Test
    void aStoreThatFailsIsAHighAlarmWithItsReasonUntilItTakesReadingsAgain() {
        store.failWith(new StoreException("store x.db: the disk is full"));
        writer.add(reading("chamber", 900, Unit.CELSIUS));
        await().atMost(PATIENCE).until(() -> !writer.health().ok());
        pass(1);
        AlarmStatus failing = standing(AlarmId.STORE_FAILING);
        assertThat(failing.priority()).isEqualTo(Priority.HIGH);
        assertThat(failing.why()).contains("wait in memory", "the disk is full");
        assertThat(failing.value()).isEqualTo(1);
        store.failWith(null);
        await().atMost(PATIENCE).until(() -> writer.health().ok());
        pass(1);
        assertThat(standing(AlarmId.STORE_FAILING).state()).isEqualTo(AlarmState.RETURNED_UNACKNOWLEDGED);
        assertThat(standing(AlarmId.STORE_FAILING).why()).contains("what had waited is stored");
    }

    @Test
    void aDiskThatIsNearlyFullIsAMediumAlarmUntilThereIsRoom() {
        diskFull = true;
        pass(1);
        assertThat(standing(AlarmId.DISK_NEARLY_FULL).priority()).isEqualTo(Priority.MEDIUM);
        assertThat(standing(AlarmId.DISK_NEARLY_FULL).why()).contains("make room or shorten keep-readings");
        diskFull = false;
        pass(1);
        assertThat(standing(AlarmId.DISK_NEARLY_FULL).state()).isEqualTo(AlarmState.RETURNED_UNACKNOWLEDGED);
    }

    @Test
    void aClockThatWasSetIsAnAlarmForAMinuteAndDoesNotLookLikeSilence() {
        burn(20);
        wallMicros += 3_600_000_000L;
        pass(1);
        AlarmStatus stepped = standing(AlarmId.CLOCK_STEPPED);
        assertThat(stepped.priority()).isEqualTo(Priority.MEDIUM);
        assertThat(stepped.value()).isBetween(3_599.0, 3_601.0);
        burn(70);
        assertThat(standing(AlarmId.CLOCK_STEPPED).state()).isEqualTo(AlarmState.RETURNED_UNACKNOWLEDGED);
        assertThat(alarms()).extracting(AlarmStatus::alarm).containsExactly(AlarmId.CLOCK_STEPPED);
    }

    @Test
    void silenceIsCriticalWhileItBurnedAndHighWhileItDidNot() {
        quiet(20);
        pass(10);
        assertThat(standing(AlarmId.NO_DATA).priority()).isEqualTo(Priority.HIGH);
        burn(120);
        pass(10);
        AlarmStatus silent = standing(AlarmId.NO_DATA);
        assertThat(silent.priority()).isEqualTo(Priority.CRITICAL);
        assertThat(silent.why()).contains("watch the fire yourself, or close the gas");
    }

    @Test
    void aDatabaseThatTakesNothingIsToldAndAnewWhenReadingsAreDropped() {
        lag = Optional.of(lag(2_440, 61, true, 0));
        pass(1);
        assertThat(standing(AlarmId.DATABASE_UNREACHABLE).why()).contains("2440 readings and entries wait here");
        lag = Optional.of(lag(9_000, 3_600, true, 500));
        pass(1);
        pass(1);
        assertThat(standing(AlarmId.DATABASE_UNREACHABLE).why()).contains("the oldest readings are set aside");
        lag = Optional.of(lag(0, 0, false, 500));
        for (int i = 0; i < 120; i++) {
            pass(1);
        }
        assertThat(alarms().stream().filter(status -> status.alarm() == AlarmId.DATABASE_UNREACHABLE))
                .as("it goes, or waits for somebody to have seen it")
                .noneMatch(status -> status.state() == AlarmState.UNACKNOWLEDGED);
    }

    @Test
    void aDatabaseThatRefusesLinesIsTold() {
        pass(1);
        lag = Optional.of(new ServerLag(
                3,
                60,
                1,
                Optional.empty(),
                "",
                0,
                Optional.empty(),
                12,
                Optional.of(new WallTime(wallMicros)),
                "400 field type conflict"));
        pass(1);
        AlarmStatus status = standing(AlarmId.DATABASE_UNREACHABLE);
        assertThat(status.state()).isEqualTo(AlarmState.UNACKNOWLEDGED);
        assertThat(status.priority()).isEqualTo(Priority.MEDIUM);
        assertThat(status.why()).contains("refuses lines, 12 so far").contains("400 field type conflict");
    }

    private static ServerLag lag(long rows, double behindS, boolean away, long dropped) {
        return new ServerLag(
                rows,
                rows,
                behindS,
                away ? Optional.of(new WallTime(1_772_359_212_000_000L)) : Optional.empty(),
                away ? "connection refused" : "",
                dropped,
                dropped > 0 ? Optional.of(new WallTime(1_772_359_212_000_000L)) : Optional.empty(),
                0,
                Optional.empty(),
                "");
    }

    private AlarmStatus standing(AlarmId alarm) {
        return alarms().stream()
                .filter(status -> status.alarm() == alarm)
                .findFirst()
                .orElseThrow(() -> new AssertionError(alarm + " is not there: " + alarms()));
    }

    private List<AlarmStatus> alarms() {
        return List.copyOf(pipeline.lanes()).get(0).monitor().snapshot().alarms();
    }

    private void quiet(int seconds) {
        feed(seconds, 0, 0);
    }

    private void burn(int seconds) {
        feed(seconds, 5, 60_000);
    }

    private void feed(int seconds, double riseKPerS, double pascal) {
        for (int i = 0; i < 2 * seconds; i++) {
            List<Reading> readings = new ArrayList<>();
            chamberC = Math.min(1_100, chamberC + riseKPerS / 2);
            readings.add(reading("chamber", chamberC, Unit.CELSIUS));
            readings.add(reading("gas", pascal, Unit.PASCAL));
            pipeline.accept(new Pack(readings, List.of(), List.of()));
            pass(0.5);
        }
    }

    /** Time goes on, and the daemon looks after its things. */
    private void pass(double seconds) {
        wallMicros += Math.round(seconds * 1e6);
        nanos += Math.round(seconds * 1e9);
        upkeep.tick();
    }

    private Reading reading(String channel, double value, Unit unit) {
        WallTime now = new WallTime(wallMicros);
        return Reading.good(new Channel("shed", channel), value, unit, now, now);
    }
}
