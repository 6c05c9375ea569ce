package org.bankfire.daemon.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.influx.LineEncoder;
import org.bankfire.daemon.store.sqlite.Spooling;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.jspecify.annotations.Nullable;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Appending readings of 4 channels at 10 Hz in batches of 1,000: through the store, with roll-ups and all; the same with what
 * a server is to be told of them in line protocol; and by the bare driver into the same table in the same kind of file with
 * the same durability.
 */
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 3)
@Measurement(iterations = 5, time = 3)
@Fork(2)
public class StoreAppendBenchmark {
    private static final int BATCH = 1_000;
    private static final List<Channel> CHANNELS = Stream.of("chamber", "shell", "ambient", "gas")
            .map(name -> new Channel("shed", name))
            .toList();
    private static final long STEP_US = 100_000;

    /** A folder of its own for each iteration, and the readings to come. */
    private static final class Workload {
        private final Random random = new Random(1);
        private final Path folder;
        private long timeUs = 1_772_359_200_000_000L;

        private Workload() throws IOException {
            folder = Files.createTempDirectory("bankfire-bench");
        }

        private Path file() {
            return folder.resolve("bench.db");
        }

        private void deleteFiles() throws IOException {
            try (Stream<Path> files = Files.list(folder)) {
                for (Path path : files.toList()) {
                    Files.delete(path);
                }
            }
            Files.delete(folder);
        }

        private List<Reading> nextBatch() {
            List<Reading> readings = new ArrayList<>(BATCH);
            for (int i = 0; i < BATCH; i++) {
                if (i % CHANNELS.size() == 0) {
                    timeUs += STEP_US;
                }
                readings.add(new Reading(
                        CHANNELS.get(i % CHANNELS.size()),
                        1_000 + random.nextGaussian(),
                        Unit.CELSIUS,
                        2.5,
                        Quality.GOOD,
                        new WallTime(timeUs),
                        new WallTime(timeUs + 1_234)));
            }
            return readings;
        }
    }

    /** The store as the daemon uses it. */
    @State(Scope.Thread)
    public static class Open {
        private @Nullable Workload workload;
        private @Nullable SqliteStore store;

        @Setup(Level.Iteration)
        public void open() throws IOException, StoreException {
            Workload fresh = new Workload();
            workload = fresh;
            store = SqliteStore.open(fresh.file());
        }

        @TearDown(Level.Iteration)
        public void close() throws IOException, StoreException {
            Objects.requireNonNull(store).close();
            Objects.requireNonNull(workload).deleteFiles();
        }
    }

    /** The store as the daemon uses it before a server that is away. */
    @State(Scope.Thread)
    public static class Spooled {
        private static final long LIMIT_BYTES = 2_000_000_000;

        private @Nullable Workload workload;
        private @Nullable SqliteStore store;

        @Setup(Level.Iteration)
        public void open() throws IOException, StoreException {
            Workload fresh = new Workload();
            workload = fresh;
            AtomicLong nowMicros = new AtomicLong(fresh.timeUs);
            store = SqliteStore.open(
                    fresh.file(),
                    new Spooling(
                            new LineEncoder(nowMicros::incrementAndGet),
                            () -> new WallTime(nowMicros.incrementAndGet()),
                            LIMIT_BYTES));
        }

        @TearDown(Level.Iteration)
        public void close() throws IOException, StoreException {
            Objects.requireNonNull(store).close();
            Objects.requireNonNull(workload).deleteFiles();
        }
    }

    /** The bare driver. */
    @State(Scope.Thread)
    public static class Bare {
        private @Nullable Workload workload;
        private @Nullable Connection connection;
        private @Nullable PreparedStatement insert;

        @Setup(Level.Iteration)
        public void open() throws IOException, SQLException, StoreException {
            Workload fresh = new Workload();
            workload = fresh;
            try (SqliteStore store = SqliteStore.open(fresh.file())) {
                store.append(StoreBatch.ofReadings(fresh.nextBatch()));
            }
            Connection opened = DriverManager.getConnection("jdbc:sqlite:" + fresh.file());
            connection = opened;
            try (Statement statement = opened.createStatement()) {
                statement.execute("PRAGMA synchronous = FULL");
            }
            opened.setAutoCommit(false);
            insert = opened.prepareStatement("INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?)");
        }

        @TearDown(Level.Iteration)
        public void close() throws IOException, SQLException {
            Objects.requireNonNull(connection).close();
            Objects.requireNonNull(workload).deleteFiles();
        }
    }

    @Benchmark
    @OperationsPerInvocation(BATCH)
    public void storeAppend(Open open) throws StoreException {
        Objects.requireNonNull(open.store)
                .append(StoreBatch.ofReadings(
                        Objects.requireNonNull(open.workload).nextBatch()));
    }

    @Benchmark
    @OperationsPerInvocation(BATCH)
    public void spooledAppend(Spooled open) throws StoreException {
        Objects.requireNonNull(open.store)
                .append(StoreBatch.ofReadings(
                        Objects.requireNonNull(open.workload).nextBatch()));
    }

    @Benchmark
    @OperationsPerInvocation(BATCH)
    public void bareDriver(Bare bare) throws SQLException {
        PreparedStatement insert = Objects.requireNonNull(bare.insert);
        int i = 0;
        for (Reading reading : Objects.requireNonNull(bare.workload).nextBatch()) {
            insert.setInt(1, 1 + i++ % CHANNELS.size());
            insert.setLong(2, reading.sourceTime().epochMicros());
            insert.setDouble(3, reading.value());
            insert.setInt(4, 1);
            insert.setInt(5, 1);
            insert.setDouble(6, reading.standardUncertainty());
            insert.setLong(7, reading.receiptTime().epochMicros());
            insert.addBatch();
        }
        insert.executeBatch();
        Objects.requireNonNull(bare.connection).commit();
    }
}
