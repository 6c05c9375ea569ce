package org.bankfire.analysis.trial;

import java.util.List;

/**
 * What burns under one set of settings differ by in a figure, on the figure's scale.
 *
 * @param source where it comes from
 * @param variance of one burn
 * @param degreesOfFreedom that it is known by
 */
record BurnScatter(ScatterSource source, double variance, double degreesOfFreedom) {
    /** Repeated burns that the usual scatter counts for. */
    private static final double USUAL_WEIGHT = 4;
    /** From so many degrees of freedom on the forge's own burns speak alone. */
    private static final double MANY = 10;
    /** Burns of a trial from which on its scatter needs no help of others. */
    static final int MANY_BURNS = 5;

    /** One burn's value of a figure, at common conditions. */
    record Value(double scaled, double ownError) {}

    static double mean(List<Value> values) {
        return values.stream().mapToDouble(Value::scaled).average().orElse(Double.NaN);
    }

    static double squares(List<Value> values) {
        double mean = mean(values);
        return values.stream()
                .mapToDouble(value -> (value.scaled() - mean) * (value.scaled() - mean))
                .sum();
    }

    /** Mean of the variances that the burns have by instruments and model alone: no scatter is less. */
    private static double own(List<List<Value>> trials) {
        return trials.stream()
                .flatMap(List::stream)
                .mapToDouble(value -> value.ownError() * value.ownError())
                .average()
                .orElse(0);
    }

    /** The scatter of a figure by all trials. */
    static BurnScatter of(TrialFigure figure, List<List<Value>> trials) {
        double own = own(trials);
        double usual = figure.usualScatter() * figure.usualScatter() + own;
        double squares = 0;
        double degrees = 0;
        for (List<Value> values : trials) {
            if (!values.isEmpty()) {
                squares += squares(values);
                degrees += values.size() - 1;
            }
        }
        if (degrees == 0) {
            return new BurnScatter(ScatterSource.USUAL, usual, USUAL_WEIGHT);
        }
        if (degrees >= MANY) {
            return new BurnScatter(ScatterSource.POOLED, Math.max(own, squares / degrees), degrees);
        }
        double all = USUAL_WEIGHT + degrees;
        return new BurnScatter(ScatterSource.MIXED, Math.max(own, (USUAL_WEIGHT * usual + squares) / all), all);
    }

    /** Parts of the variance of the difference of two trials' means. */
    MeanDifference.Part[] parts(List<Value> a, List<Value> b) {
        if (Math.min(a.size(), b.size()) < MANY_BURNS) {
            return new MeanDifference.Part[] {
                new MeanDifference.Part(variance * (1.0 / a.size() + 1.0 / b.size()), degreesOfFreedom)
            };
        }
        double own = own(List.of(a, b));
        return new MeanDifference.Part[] {ofOne(a, own), ofOne(b, own)};
    }

    private static MeanDifference.Part ofOne(List<Value> values, double own) {
        double degrees = values.size() - 1.0;
        return new MeanDifference.Part(Math.max(own, squares(values) / degrees) / values.size(), degrees);
    }

    /** Where the scatter of that difference comes from. */
    ScatterSource sourceOf(List<Value> a, List<Value> b) {
        return Math.min(a.size(), b.size()) < MANY_BURNS ? source : ScatterSource.WELCH;
    }
}
