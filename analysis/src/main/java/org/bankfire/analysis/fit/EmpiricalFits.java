package org.bankfire.analysis.fit;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Empirical fits of a heat-up or a cool-down, for which nothing of the forge need be known.
 *
 * <p>Several curves are fitted and ranked by Akaike's criterion corrected for small samples and for correlated noise, n ln(S/N)
 * + 2K + 2K(K+1)/(N−K−1), K counting the noise as a parameter (Burnham and Anderson, <i>Model Selection and Multimodel
 * Inference</i>, 2nd ed., Springer 2002, sections 2.4 and 2.5: QAICc). Of N samples only n, the effective ones, bear on the
 * likelihood; N/n is the inflation of the variance, taken for all curves from the one that leaves the least sum of squares S,
 * as those authors take it from the richest model.
 */
public final class EmpiricalFits {
    /** Name of the final temperature in the results, K or °C. */
    public static final String FINAL_TEMPERATURE = "finalTemperature";
    /** Name of the height above the final temperature at the first sample, K. */
    public static final String AMPLITUDE = "amplitude";
    /** Name of the time constant, s. */
    public static final String TIME_CONSTANT = "timeConstant";
    /** Of two exponentials: height of the fast one, K. */
    public static final String FAST_AMPLITUDE = "fastAmplitude";
    /** Of two exponentials: the shorter time constant, s. */
    public static final String FAST_TIME_CONSTANT = "fastTimeConstant";
    /** Of two exponentials: height of the slow one, K. */
    public static final String SLOW_AMPLITUDE = "slowAmplitude";
    /** Of two exponentials: the longer time constant, s. */
    public static final String SLOW_TIME_CONSTANT = "slowTimeConstant";

    /** Time constants longer than this many records are a straight line to any record. */
    private static final double LONGEST_SPANS = 100;

    /** Far below one sign in a thousand records of noise. */
    private static final double RUNS_TOO_FEW = -3;

    /** A model this far behind has essentially no support (Burnham and Anderson, section 2.6). */
    private static final double NO_SUPPORT = 10;

    /** For start values: a few steps, a few digits. */
    private static final FitSettings ROUGH =
            FitSettings.STANDARD.withEvaluations(30).withTolerance(1e-4);

    private EmpiricalFits() {}

    /** Fits of a heat-up: one and two exponentials and the diffusive curve. */
    public static EmpiricalReport heatUp(TemperatureSeries series, FitSettings settings) {
        List<EmpiricalFit> fits = ranked(
                series,
                List.of(EmpiricalCurve.ONE_EXPONENTIAL, EmpiricalCurve.TWO_EXPONENTIALS, EmpiricalCurve.DIFFUSIVE),
                OptionalDouble.empty(),
                settings);
        List<Caution> cautions = new ArrayList<>(List.of(Caution.HEAT_UP_GIVES_NO_LOSS));
        add(cautions, series, fits.get(0), true);
        return new EmpiricalReport(fits, cautions);
    }

    /**
     * Fits of a cool-down: one and two exponentials.
     *
     * @param series from the end of the fire on
     * @param ambient to which it cools, on the scale of the series; empty when it is to be found
     * @param settings how to fit
     */
    public static EmpiricalReport coolDown(TemperatureSeries series, OptionalDouble ambient, FitSettings settings) {
        List<EmpiricalFit> fits = ranked(
                series, List.of(EmpiricalCurve.ONE_EXPONENTIAL, EmpiricalCurve.TWO_EXPONENTIALS), ambient, settings);
        List<Caution> cautions = new ArrayList<>(List.of(Caution.COOL_DOWN_GIVES_A_RATIO));
        add(cautions, series, fits.get(0), ambient.isEmpty());
        return new EmpiricalReport(fits, cautions);
    }

    /**
     * One curve.
     *
     * @param series the record
     * @param curve which
     * @param knownFinal the final temperature where it is known
     * @param settings how to fit
     */
    public static FitResult fit(
            TemperatureSeries series, EmpiricalCurve curve, OptionalDouble knownFinal, FitSettings settings) {
        return LeastSquaresSolver.solve(problem(series, curve, knownFinal), settings);
    }

    /** The problem of one curve, its starts found from the series. */
    public static FitProblem problem(TemperatureSeries series, EmpiricalCurve curve, OptionalDouble knownFinal) {
        TemperatureSeries thinned = CurveStart.thinned(series);
        double[] start = CurveStart.of(thinned, curve, knownFinal);
        // The thinned points once more, now for the minimum: the whole record then needs only the last few steps.
        FitProblem rough = problem(thinned, curve, knownFinal, start);
        double[] better = Minimizer.descend(rough, Weighting.UNIT, start, ROUGH, Minimizer.CUSTOMARY_STEP).values;
        return problem(series, curve, knownFinal, inside(rough, better) ? better : start);
    }

    private static boolean inside(FitProblem problem, double[] values) {
        for (int j = 0; j < values.length; j++) {
            FitParameter parameter = problem.parameters().get(j);
            if (!parameter.bounds().contains(values[j]) || parameter.bounds().touches(values[j], parameter.scale())) {
                return false;
            }
        }
        return true;
    }

    private static FitProblem problem(
            TemperatureSeries series, EmpiricalCurve curve, OptionalDouble knownFinal, double[] start) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < series.size(); i++) {
            low = Math.min(low, series.temperatures()[i]);
            high = Math.max(high, series.temperatures()[i]);
        }
        double scaleK = high > low ? high - low : 1;
        boolean two = curve.terms() == 2;
        List<FitParameter> parameters = new ArrayList<>();
        int next = 0;
        if (knownFinal.isEmpty()) {
            parameters.add(FitParameter.of(FINAL_TEMPERATURE, "K", start[next++], scaleK));
        }
        parameters.add(FitParameter.of(two ? FAST_AMPLITUDE : AMPLITUDE, "K", start[next++], scaleK));
        parameters.add(timeConstant(two ? FAST_TIME_CONSTANT : TIME_CONSTANT, start[next++], series.spanS()));
        if (two) {
            parameters.add(FitParameter.of(SLOW_AMPLITUDE, "K", start[next++], scaleK));
            parameters.add(timeConstant(SLOW_TIME_CONSTANT, start[next], series.spanS()));
        }
        return new FitProblem(parameters, new CurveModel(series, curve, knownFinal));
    }

    private static FitParameter timeConstant(String name, double start, double spanS) {
        return FitParameter.of(name, "s", start, spanS).within(new Bounds.Between(0, LONGEST_SPANS * spanS));
    }

    private static List<EmpiricalFit> ranked(
            TemperatureSeries series, List<EmpiricalCurve> curves, OptionalDouble knownFinal, FitSettings settings) {
        List<FitResult> results = new ArrayList<>();
        double effective = series.size();
        double least = Double.POSITIVE_INFINITY;
        for (EmpiricalCurve curve : curves) {
            FitResult result = fit(series, curve, knownFinal, settings);
            results.add(result);
            if (result.residuals().sumOfSquares() < least && !(result instanceof FitResult.NotConverged)) {
                least = result.residuals().sumOfSquares();
                effective = result.residuals().effectiveSamples();
            }
        }
        List<EmpiricalFit> fits = new ArrayList<>();
        for (int i = 0; i < curves.size(); i++) {
            EmpiricalCurve curve = curves.get(i);
            int parameters = 2 * curve.terms() + (knownFinal.isPresent() ? 0 : 1);
            fits.add(new EmpiricalFit(
                    curve,
                    results.get(i),
                    aicc(results.get(i).residuals().sumOfSquares(), series.size(), effective, parameters + 1)));
        }
        fits.sort(Comparator.comparingInt((EmpiricalFit fit) -> rank(fit.result()))
                .thenComparingDouble(EmpiricalFit::aicc)
                .thenComparingInt(fit -> fit.curve().terms()));
        return fits;
    }

    private static int rank(FitResult result) {
        if (result instanceof FitResult.Converged) {
            return 0;
        }
        return result instanceof FitResult.IllConditioned ? 1 : 2;
    }

    private static double aicc(double squares, int samples, double effective, int parameters) {
        double left = (double) samples - parameters - 1;
        if (!(left > 0)) {
            return Double.POSITIVE_INFINITY;
        }
        return effective * Math.log(squares / samples) + 2.0 * parameters + 2.0 * parameters * (parameters + 1) / left;
    }

    private static void add(
            List<Caution> cautions, TemperatureSeries series, EmpiricalFit best, boolean finalIsFitted) {
        if (!(best.result() instanceof FitResult.Converged fit) || !betterThanConstant(series, best)) {
            cautions.add(Caution.PARAMETERS_NOT_TOLD_APART);
            if (finalIsFitted) {
                cautions.add(Caution.FINAL_TEMPERATURE_NOT_IDENTIFIED);
            }
            return;
        }
        if (finalIsFitted && !finalIdentified(series, best, fit)) {
            cautions.add(Caution.FINAL_TEMPERATURE_NOT_IDENTIFIED);
        }
        if (best.curve() == EmpiricalCurve.DIFFUSIVE) {
            cautions.add(Caution.WALL_STILL_SOAKING);
        }
        if (fit.residuals().runsZ() < RUNS_TOO_FEW) {
            cautions.add(Caution.CURVE_MISSES_A_TREND);
        }
    }

    /** A constant has one parameter and the noise; a curve that does not clearly beat it has nothing to say. */
    private static boolean betterThanConstant(TemperatureSeries series, EmpiricalFit best) {
        double mean = 0;
        for (int i = 0; i < series.size(); i++) {
            mean += series.temperatures()[i] / series.size();
        }
        double squares = 0;
        for (int i = 0; i < series.size(); i++) {
            squares += Math.pow(series.temperatures()[i] - mean, 2);
        }
        ResidualReport residuals = best.result().residuals();
        double constant = aicc(squares, series.size(), residuals.effectiveSamples(), 2);
        double curve = aicc(
                residuals.sumOfSquares(),
                series.size(),
                residuals.effectiveSamples(),
                2 * best.curve().terms() + 2);
        return constant - curve > NO_SUPPORT;
    }

    private static boolean finalIdentified(TemperatureSeries series, EmpiricalFit best, FitResult.Converged fit) {
        Estimate end = fit.estimate(FINAL_TEMPERATURE);
        double change = Math.abs(series.temperatures()[series.size() - 1] - series.temperatures()[0]);
        return series.spanS() >= best.slowestTimeConstantS() && end.high95() - end.low95() < change / 2;
    }
}
