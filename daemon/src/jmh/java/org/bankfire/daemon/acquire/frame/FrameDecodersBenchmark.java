package org.bankfire.daemon.acquire.frame;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** Lines a second on one core: a SenML line of about 120 bytes with its checksum, and a line of columns. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class FrameDecodersBenchmark {
    private static final WallTime NOW = new WallTime(1_772_359_212_250_000L);

    private final FrameDecoder senMl = FrameDecoders.ofLines(new FrameFormat.SenMl(ChecksumPolicy.REQUIRED, null));
    private final byte[] senMlLine =
            LineChecksum.withTrailer(("[{\"bn\":\"shed:\",\"n\":\"chamber\",\"u\":\"Cel\",\"v\":1103.2},"
                            + "{\"n\":\"gas\",\"u\":\"Pa\",\"v\":34500.25},{\"n\":\"seq\",\"v\":1700123}]")
                    .getBytes(StandardCharsets.UTF_8));

    private final FrameDecoder columns = FrameDecoders.ofLines(new FrameFormat.Columns(
            ChecksumPolicy.OPTIONAL,
            "shed",
            ',',
            List.of(
                    new FrameFormat.Column("time", Unit.NONE),
                    new FrameFormat.Column("chamber", Unit.CELSIUS),
                    new FrameFormat.Column("gas", Unit.PSI),
                    new FrameFormat.Column("flame", Unit.RATIO))));
    private final byte[] columnsLine = "1772359212.25,1103.2,5.01,0.95".getBytes(StandardCharsets.UTF_8);

    /** JSON with a required checksum. */
    @Benchmark
    public Pack senMlLine() throws BadFrameException {
        return senMl.decode(senMlLine, NOW);
    }

    /** Four columns, one of them the time. */
    @Benchmark
    public Pack columnsLine() throws BadFrameException {
        return columns.decode(columnsLine, NOW);
    }
}
