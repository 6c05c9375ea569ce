package org.bankfire.analysis.fit;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
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

    /** Which curve on which series; the choice fits them all, as the product does. */
    @Param({
        "heat-up ONE_EXPONENTIAL",
        "heat-up TWO_EXPONENTIALS",
        "heat-up DIFFUSIVE",
        "heat-up choice",
        "mug ONE_EXPONENTIAL",
        "mug TWO_EXPONENTIALS",
        "mug choice"
    })
    public String task = "";

    private List<EmpiricalCurve> curves = List.of();
    private boolean mug;
    private TemperatureSeries series = TestSeries.mug().series();
    private CurveFitProcess scipy;

    /** Starts SciPy. */
    public EmpiricalFitBenchmark() {
        try {
            scipy = new CurveFitProcess();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Both get the same series. */
    @Setup
    public void setUp() {
        String[] words = task.split(" ", 2);
        mug = words[0].equals("mug");
        if (!words[1].equals("choice")) {
            curves = List.of(EmpiricalCurve.valueOf(words[1]));
        } else if (mug) {
            curves = List.of(EmpiricalCurve.ONE_EXPONENTIAL, EmpiricalCurve.TWO_EXPONENTIALS);
        } else {
            curves = List.of(EmpiricalCurve.values());
        }
        TestSeries record = mug
                ? TestSeries.mug()
                : TestSeries.forgeHeatUp(curves.size() == 1 ? curves.get(0) : EmpiricalCurve.TWO_EXPONENTIALS);
        series = record.series();
        for (EmpiricalCurve curve : curves) {
            scipy.fit(record.timesS(), record.values(), curve, OptionalDouble.empty(), SCIPY_TOLERANCE);
        }
    }

    /** Ours. */
    @Benchmark
    public Object fit() {
        if (curves.size() == 1) {
            return EmpiricalFits.fit(series, curves.get(0), OptionalDouble.empty(), FitSettings.STANDARD);
        }
        return mug
                ? EmpiricalFits.coolDown(series, OptionalDouble.empty(), FitSettings.STANDARD)
                : EmpiricalFits.heatUp(series, FitSettings.STANDARD);
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
