package org.bankfire.analysis.fit;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;

/**
 * Empirical fits and SciPy's {@code curve_fit} on the same series by turns. Ours seek their start values and tell errors and
 * diagnostics; SciPy's start values are worked out beforehand, its data are arrays already, and many fits share one message.
 *
 * <p>Standard output, a line a task: what, our time, SciPy's time, parted by tabs; medians of the rounds, µs.
 */
final class FitDuel {
    private static final int ROUNDS = 5;
    private static final double SCIPY_TOLERANCE = 1e-8;

    private record Task(String what, TestSeries series, EmpiricalCurve curve) {}

    private FitDuel() {}

    /** The one argument: seconds for each turn. */
    public static void main(String[] args) throws IOException {
        double seconds = Double.parseDouble(args[0]);
        for (Task task : List.of(
                new Task(
                        "one exponential to a heat-up of 2,400 readings",
                        TestSeries.forgeHeatUp(EmpiricalCurve.ONE_EXPONENTIAL),
                        EmpiricalCurve.ONE_EXPONENTIAL),
                new Task(
                        "two exponentials to a heat-up of 2,400 readings",
                        TestSeries.forgeHeatUp(EmpiricalCurve.TWO_EXPONENTIALS),
                        EmpiricalCurve.TWO_EXPONENTIALS),
                new Task(
                        "one exponential to a mug's 222 readings", TestSeries.mug(), EmpiricalCurve.ONE_EXPONENTIAL))) {
            tell(task, seconds);
        }
    }

    private static void tell(Task task, double seconds) throws IOException {
        double[] ours = new double[ROUNDS];
        double[] scipys = new double[ROUNDS];
        try (CurveFitProcess scipy = new CurveFitProcess()) {
            scipy.fit(task.series.timesS(), task.series.values(), task.curve, OptionalDouble.empty(), SCIPY_TOLERANCE);
            for (int round = -1; round < ROUNDS; round++) {
                double our = timed(seconds, times -> repeat(task, times));
                double their = timed(seconds, scipy::repeat);
                if (round >= 0) {
                    ours[round] = our;
                    scipys[round] = their;
                }
            }
        }
        Arrays.sort(ours);
        Arrays.sort(scipys);
        System.out.println(
                String.format(Locale.ROOT, "%s\t%.2f\t%.2f", task.what, ours[ROUNDS / 2], scipys[ROUNDS / 2]));
    }

    private static Object repeat(Task task, int times) {
        Object last = task;
        for (int i = 0; i < times; i++) {
            last = EmpiricalFits.fit(task.series.series(), task.curve, OptionalDouble.empty(), FitSettings.STANDARD);
        }
        return last;
    }

    /** Mean time of one, µs, from runs that grow until they fill the time. */
    private static double timed(double seconds, java.util.function.IntFunction<Object> repeated) {
        long begin = System.nanoTime();
        long done = 0;
        int times = 1;
        while (System.nanoTime() - begin < seconds * 1e9) {
            Object last = repeated.apply(times);
            if (last == null) {
                throw new IllegalStateException("no fit");
            }
            done += times;
            times = Math.min(64, 2 * times);
        }
        return (System.nanoTime() - begin) / 1e3 / done;
    }
}
