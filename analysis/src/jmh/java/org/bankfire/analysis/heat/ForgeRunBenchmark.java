package org.bankfire.analysis.heat;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * One curve of four hours from a cold forge of light block, read at the moments of a prediction: every 5 s for a minute,
 * every 10 s to ten minutes, every 30 s to an hour, then by the minute.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class ForgeRunBenchmark {
    private static final double FOUR_HOURS_S = 14_400;

    private final ForgeModel model = Forges.model(Forges.bench());

    /** The curve. */
    @Benchmark
    public double fourHours() {
        return follow(Forges.lit(model, Forges.BAR_PA), 0);
    }

    /** The same with a bar put in after ten minutes. */
    @Benchmark
    public double fourHoursWithABar() {
        ForgeRun run = Forges.lit(model, Forges.BAR_PA);
        run.advanceTo(600);
        run.stockIn(new Bar(0.016, 0.15), Forges.AMBIENT_K);
        return follow(run, 600);
    }

    private static double follow(ForgeRun run, double fromS) {
        double sum = 0;
        double timeS = fromS;
        while (timeS < FOUR_HOURS_S) {
            timeS += timeS < 60 ? 5 : timeS < 600 ? 10 : timeS < 3600 ? 30 : 60;
            run.advanceTo(timeS);
            sum += run.chamberK();
        }
        return sum;
    }

    /** The balance at rest, and the gas that holds 1,200 °C. */
    @Benchmark
    public double holdingGas() {
        return new SteadyForge(model, true, Forges.AMBIENT_K)
                .holdingKgPerS(1473.15, model.gasKgPerS(4e5, Forges.AMBIENT_K));
    }
}
