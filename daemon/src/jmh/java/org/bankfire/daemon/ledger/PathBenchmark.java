package org.bankfire.daemon.ledger;

import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.frame.LineChecksum;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
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
 * The whole path of a line after the wire: decode, correct, store (durable at the end of each invocation), watch. One
 * operation is one raw reading; each line holds four. Pin it to one core to learn what one core does.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 5)
@Measurement(iterations = 5, time = 5)
public class PathBenchmark {
    private static final int LINES = 10_000;
    private static final int READINGS_PER_LINE = 4;
    private static final double LINES_PER_S = 10;

    private final FrameDecoder decoder = FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.REQUIRED, null));
    private final byte[][] lines = new byte[LINES][];

    private Path folder = Path.of(".");
    private @Nullable Open open;
    private WallTime time = WallTime.ofEpochSeconds(1_780_000_000);

    private record Open(ReadingStore store, StoreWriter writer, Pipeline pipeline) {}

    /** Opens a fresh store. */
    @Setup(Level.Trial)
    public void open() throws IOException, StoreException, ConfigException {
        folder = Files.createTempDirectory("bankfire-bench-");
        BankfireConfig config = ConfigReader.read(
                        Path.of(System.getProperty("bankfire.fixtures", "../fixtures"), "examples", "shed.toml"))
                .config();
        ReadingStore store = SqliteStore.open(folder.resolve("bench.db"));
        StoreWriter writer = new StoreWriter(store, "bench");
        StoreOutput output = new StoreOutput(writer, new EventWriter(Writer.nullWriter()));
        open = new Open(store, writer, new Pipeline(config.forges(), output));
        for (int i = 0; i < LINES; i++) {
            double swing = Math.sin(i / 500.0);
            String pack = String.format(
                    Locale.ROOT,
                    "[{\"bn\":\"shed:\",\"n\":\"chamber-emf\",\"u\":\"mV\",\"v\":%.3f},{\"n\":\"cold-junction\",\"u\":\"Cel\","
                            + "\"v\":%.2f},{\"n\":\"gas\",\"u\":\"kPa\",\"v\":%.3f},{\"n\":\"seq\",\"v\":%d}]",
                    44 + swing,
                    25 + swing,
                    80 + swing,
                    i);
            lines[i] = LineChecksum.withTrailer(pack.getBytes(StandardCharsets.UTF_8));
        }
    }

    /** A thousand seconds of one forge at 10 Hz. */
    @Benchmark
    @OperationsPerInvocation(LINES * READINGS_PER_LINE)
    public boolean path() throws BadFrameException, InterruptedException {
        Open path = Objects.requireNonNull(open);
        for (byte[] line : lines) {
            time = time.plusSeconds(1 / LINES_PER_S);
            path.pipeline.accept(decoder.decode(line, time));
        }
        return path.writer.flush(Duration.ofMinutes(1));
    }

    /** Removes the store. */
    @TearDown(Level.Trial)
    public void close() throws IOException, StoreException {
        Open path = Objects.requireNonNull(open);
        path.writer.close();
        path.store.close();
        try (var files = Files.list(folder)) {
            for (Path file : (Iterable<Path>) files::iterator) {
                Files.delete(file);
            }
        }
        Files.delete(folder);
    }
}
