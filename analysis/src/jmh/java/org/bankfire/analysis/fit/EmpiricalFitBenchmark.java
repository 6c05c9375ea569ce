package org.bankfire.analysis.fit;

import java.io.IOException;
import java.util.OptionalDouble;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * One empirical fit with its start values, errors and diagnostics, beside SciPy's {@code curve_fit} on the same series in the
 * same run: a generated heat-up of 2400 samples and the mug's 222. SciPy's start values are worked out beforehand, its data
 * are arrays already, its tolerance is its default, and a hundred fits share one message.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
// The benchmarks run in the folder of their module.
@Fork(value = 1, jvmArgsAppend = "-Dbankfire.fixtures=../fixtures")
public class EmpiricalFitBenchmark {
    private static final int FITS = 100;
    private static final double SCIPY_TOLERANCE = 1e-8;

    /** Which curve on which series. */
    @Param({
        "heat-up ONE_EXPONENTIAL",
        "heat-up TWO_EXPONENTIALS",
        "heat-up DIFFUSIVE",
        "mug ONE_EXPONENTIAL",
        "mug TWO_EXPONENTIALS"
    })
    public String task = "";

    private EmpiricalCurve curve = EmpiricalCurve.ONE_EXPONENTIAL;
    private TemperatureSeries series = TestSeries.mug().series();
    private CurveFitProcess scipy;

    /** Starts SciPy. */
    public EmpiricalFitBenchmark() {
        try {
            scipy = new CurveFitProcess();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    /** Both get the same series. */
    @Setup
    public void setUp() {
        String[] words = task.split(" ", 2);
        curve = EmpiricalCurve.valueOf(words[1]);
        TestSeries record = words[0].equals("mug") ? TestSeries.mug() : TestSeries.forgeHeatUp(curve);
        series = record.series();
        scipy.fit(record.timesS(), record.values(), curve, OptionalDouble.empty(), SCIPY_TOLERANCE);
    }

    /** Ours. */
    @Benchmark
    public FitResult fit() {
        return EmpiricalFits.fit(series, curve, OptionalDouble.empty(), FitSettings.STANDARD);
    }

    /** SciPy's. */
    @Benchmark
    @OperationsPerInvocation(FITS)
    public Object curveFit() {
        return scipy.repeat(FITS);
    }

    /** Ends SciPy. */
    @TearDown
    public void tearDown() throws IOException {
        scipy.close();
    }
}
