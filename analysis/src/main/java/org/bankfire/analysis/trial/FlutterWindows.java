package org.bankfire.analysis.trial;

import java.util.List;
import java.util.stream.IntStream;

/**
 * Strength of the fast part of a quantity, window by window as {@link org.bankfire.analysis.flutter.FlutterMeter} tells it.
 *
 * @param endsS end of each window, s since the burn's start, rising
 * @param strengths root mean square of each, in the quantity's unit; as many
 */
record FlutterWindows(List<Double> endsS, List<Double> strengths) {
    static final FlutterWindows NONE = new FlutterWindows(List.of(), List.of());

    FlutterWindows {
        endsS = List.copyOf(endsS);
        strengths = List.copyOf(strengths);
    }

    /** Strengths of the windows that end in a span, sorted. */
    double[] between(double fromS, double toS) {
        return IntStream.range(0, endsS.size())
                .filter(i -> endsS.get(i) > fromS && endsS.get(i) <= toS)
                .mapToDouble(strengths::get)
                .sorted()
                .toArray();
    }
}
