package org.bankfire.analysis.flame;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** One quarter second of the flame test in a forge that burns, with its regulator turned every two minutes. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class FlameTestBenchmark {
    private static final int TURN_EVERY = 480;

    private BenchForge forge = new BenchForge(1, 12);
    private FlameTest test = new FlameTest(forge.description(), FlameTest.USUAL_RATED_STOCK);
    private long quarters;

    /** Lights it and heats for ten minutes. */
    @Setup
    public void heat() {
        forge = new BenchForge(1, 12);
        test = new FlameTest(forge.description(), FlameTest.USUAL_RATED_STOCK);
        forge.pressurePa = 0.5e5;
        forge.lit = true;
        for (int i = 0; i < 2_400; i++) {
            quarterSecond();
        }
        if (test.verdict() != FlameVerdict.BURNING) {
            throw new IllegalStateException("it does not burn: " + test.verdict());
        }
    }

    /** The virtual forge's own steps are in it, some microseconds. */
    @Benchmark
    public FlameVerdict quarterSecond() {
        if (quarters % TURN_EVERY == 0) {
            forge.pressurePa = quarters / TURN_EVERY % 2 == 0 ? 0.5e5 : 0.7e5;
        }
        forge.run(0.25);
        quarters++;
        long at = quarters * 250_000;
        test.gas(at, true, forge.flow());
        test.chamber(at, forge.probeC());
        return test.verdict();
    }
}
