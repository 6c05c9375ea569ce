package org.bankfire.analysis.trial;

import java.util.Locale;
import org.bankfire.analysis.quantity.Constants;
import org.hipparchus.distribution.continuous.TDistribution;

/** What a stretch tells without a model: times, slopes and flutter. */
final class MeasuredFigures {
    /** A minute of windows: with fewer a spike is a share of them. */
    private static final int FEWEST_WINDOWS = 12;
    /** Seconds after lighting until a burner burns as it is set. Common practice, no source. */
    private static final double LIGHTING_S = 60;
    /** Neighbouring windows are alike: a third of them count. Common practice, no source. */
    private static final double INDEPENDENT = 1.0 / 3;
    /** Standard error of a median over that of a mean, of normal noise: √(π/2). */
    private static final double MEDIAN = Math.sqrt(Math.PI / 2);

    private static final double NORMAL95 = 1.959964;

    private final TrialStretch stretch;
    private final HeatUpCurve curve;

    MeasuredFigures(TrialStretch stretch) {
        this.stretch = stretch;
        curve = stretch.measured();
    }

    StretchFigure of(FigureKey key) {
        return switch (key.figure()) {
            case TIME_TO_TARGET -> timeToTarget(key);
            case HEATING_RATE -> heatingRate(key);
            case CHAMBER_FLUTTER -> flutter(key, stretch.burn().chamberFlutter());
            case GAS_FLUTTER -> flutter(key, stretch.burn().gasFlutter());
            case STEADY_TEMPERATURE, GAS_AT_TARGET, LOSS_COEFFICIENT, EFFICIENCY, MIXTURE ->
                throw new IllegalArgumentException(key + " is not measured");
        };
    }

    private StretchFigure timeToTarget(FigureKey key) {
        if (!stretch.isFromLighting()) {
            return StretchFigure.untold(
                    key, "the settings were changed after lighting", "a heat-up under one set of settings");
        }
        HeatUpCurve.Passing passing = curve.passing(key.atK(), false);
        if (!passing.isTold()) {
            return notPassed(key);
        }
        if (stretch.hasStockUntil(passing.timeS())) {
            return stock(key);
        }
        double error = passing.timeErrorS() / passing.timeS();
        return warm(StretchFigure.told(key, passing.timeS(), error, coverage(passing), error));
    }

    private StretchFigure heatingRate(FigureKey key) {
        if (!stretch.isFromLighting()) {
            return StretchFigure.untold(
                    key, "the settings were changed after lighting", "a heat-up under one set of settings");
        }
        HeatUpCurve.Passing passing = curve.passing(key.atK(), true);
        if (!passing.isTold()) {
            return notPassed(key);
        }
        if (stretch.hasStockUntil(passing.timeS())) {
            return stock(key);
        }
        double error = passing.perMinError() / passing.perMin();
        return warm(StretchFigure.told(key, passing.perMin(), error, coverage(passing), error));
    }

    private static double coverage(HeatUpCurve.Passing passing) {
        return new TDistribution(passing.degreesOfFreedom()).inverseCumulativeProbability(0.975);
    }

    private StretchFigure warm(StretchFigure figure) {
        return stretch.isWarm()
                ? figure.because(text(
                        "the forge was still at %.0f °C at gas on, and how deep is not known",
                        stretch.startK() - Constants.ZERO_CELSIUS_K))
                : figure;
    }

    private StretchFigure notPassed(FigureKey key) {
        if (!Double.isFinite(curve.hottestK())) {
            return StretchFigure.untold(key, "there is no good chamber reading", "look at the chamber sensor");
        }
        return curve.coldestK() >= key.atK()
                ? StretchFigure.untold(
                        key,
                        text("it began at %.0f °C already", curve.coldestK() - Constants.ZERO_CELSIUS_K),
                        "begin with a colder forge")
                : StretchFigure.untold(
                        key,
                        text("the chamber came to %.0f °C at most", curve.hottestK() - Constants.ZERO_CELSIUS_K),
                        text("heat up to %.0f °C without turning the gas down", key.atC()));
    }

    private static StretchFigure stock(FigureKey key) {
        return StretchFigure.untold(key, "stock was in the chamber", "heat up with an empty chamber");
    }

    private StretchFigure flutter(FigureKey key, FlutterWindows windows) {
        double[] sorted = windows.between(Math.max(LIGHTING_S, stretch.fromS()), stretch.toS());
        if (sorted.length < FEWEST_WINDOWS) {
            return windows.endsS().isEmpty()
                    ? StretchFigure.untold(
                            key,
                            "fewer than two readings a second: the fast part is not in them",
                            "read four times a second or more")
                    : StretchFigure.untold(key, "it burned for less than two minutes", "a longer burn");
        }
        double median = (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2;
        if (!(median > 0)) {
            return StretchFigure.untold(
                    key, "the readings do not move at all", "an amplifier that resolves smaller steps");
        }
        double mean = 0;
        for (double strength : sorted) {
            mean += Math.log(Math.max(strength, median * 1e-3)) / sorted.length;
        }
        double squares = 0;
        for (double strength : sorted) {
            double off = Math.log(Math.max(strength, median * 1e-3)) - mean;
            squares += off * off;
        }
        double deviation = Math.sqrt(squares / (sorted.length - 1));
        double error = MEDIAN * deviation / Math.sqrt(INDEPENDENT * sorted.length);
        return StretchFigure.told(key, median, error, NORMAL95, error);
    }

    private static String text(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
