package org.bankfire.daemon.report.document;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** A scale with round figures. */
final class Scale {
    private static final int MOST_STEPS = 6;
    private static final double[] MINUTE_STEPS = {
        0.5, 1, 2, 5, 10, 15, 20, 30, 60, 120, 180, 240, 360, 720, 1_440, 2_880, 7_200, 14_400
    };
    private static final int MOST_TIMES = 10;
    private static final double S_PER_MIN = 60;

    private Scale() {}

    /** Round figures over a stretch that has a length, from at or below it to at or above it. */
    static List<Double> figures(double from, double to) {
        double raw = Math.max((to - from) / MOST_STEPS, Math.max(Math.abs(to), 1e-6) * 1e-6);
        double power = Math.pow(10, Math.floor(Math.log10(raw)));
        double step = 10 * power;
        for (double each : new double[] {5, 2.5, 2, 1}) {
            step = each * power >= raw * (1 - 1e-9) ? each * power : step;
        }
        List<Double> figures = new ArrayList<>();
        long first = (long) Math.floor(from / step + 1e-9);
        long last = (long) Math.ceil(to / step - 1e-9);
        for (long i = first; i <= Math.max(last, first + 1); i++) {
            figures.add(i * step);
        }
        return figures;
    }

    /** A figure of a scale with as many digits as its step needs. */
    static String words(double figure, double step) {
        int digits = 0;
        while (digits < 6 && Math.abs(step * Math.pow(10, digits) - Math.rint(step * Math.pow(10, digits))) > 1e-6) {
            digits++;
        }
        String text = String.format(Locale.ROOT, "%." + digits + "f", figure);
        return (Double.parseDouble(text) == 0 ? text.replace("-", "") : text).replace('-', '−');
    }

    /** Length of the steps of an axis of time, s. */
    static double timeStepS(double lengthS) {
        for (double minutes : MINUTE_STEPS) {
            if (lengthS / S_PER_MIN / minutes <= MOST_TIMES) {
                return minutes * S_PER_MIN;
            }
        }
        return Math.ceil(lengthS / MOST_TIMES / 86_400) * 86_400;
    }
}
