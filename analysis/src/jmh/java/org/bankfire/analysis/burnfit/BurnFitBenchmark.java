package org.bankfire.analysis.burnfit;

import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.burnfit.Burns.With;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** The fit of a burn of one hour at 4 Hz: heat-up, idle, cool-down; and the gathering of its readings. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 2, time = 3)
@Measurement(iterations = 5, time = 3)
@Fork(1)
public class BurnFitBenchmark {
    private final BurnRecord record = Burns.record(Burns.WHOLE, With.ALL);

    /** The fit with its prediction, band, ledger and comparison. */
    @Benchmark
    public BurnFitResult fit() {
        return BurnFit.fit(Burns.shed(), record, BurnFit.USUAL_LOSS_AT_K);
    }

    /** A recorder that takes two channels for an hour at 4 Hz and gives its record. */
    @Benchmark
    public BurnRecord gather() {
        BurnRecorder recorder = new BurnRecorder();
        for (int i = 0; i < 14_400; i++) {
            recorder.chamber(i * 0.25, 300 + 1000 * (1 - Math.exp(-i / 4000.0)));
            recorder.gas(i * 0.25, 80e3);
        }
        return recorder.record();
    }
}
