package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.quantity.Constants;

/**
 * A figure, and the chamber temperature that it belongs to.
 *
 * @param figure what it is
 * @param atK chamber temperature, K; NaN where it belongs to none
 */
public record FigureKey(TrialFigure figure, double atK) {
    /** Chamber temperatures at which heating rates are told, °C. */
    private static final double[] RATES_AT_C = {400, 600, 800, 1000};
    /** Hot face at which the loss coefficient is told, °C. */
    static final double LOSS_AT_C = 1000;

    /** All figures of a forge with that target, in the order in which they are told. */
    static List<FigureKey> all(double targetK) {
        List<FigureKey> keys = new ArrayList<>();
        for (TrialFigure figure : TrialFigure.values()) {
            switch (figure) {
                case HEATING_RATE -> {
                    for (double celsius : RATES_AT_C) {
                        keys.add(new FigureKey(figure, celsius + Constants.ZERO_CELSIUS_K));
                    }
                }
                case TIME_TO_TARGET, GAS_AT_TARGET, EFFICIENCY -> keys.add(new FigureKey(figure, targetK));
                case LOSS_COEFFICIENT -> keys.add(new FigureKey(figure, LOSS_AT_C + Constants.ZERO_CELSIUS_K));
                case STEADY_TEMPERATURE, MIXTURE, CHAMBER_FLUTTER, GAS_FLUTTER ->
                    keys.add(new FigureKey(figure, Double.NaN));
            }
        }
        return keys;
    }

    /** Chamber temperature, °C; NaN where it belongs to none. */
    public double atC() {
        return atK - Constants.ZERO_CELSIUS_K;
    }

    /** For the reader, such as {@code heating rate at 600 °C}. */
    public String words() {
        return figure == TrialFigure.HEATING_RATE || figure == TrialFigure.LOSS_COEFFICIENT
                ? String.format(Locale.ROOT, "%s at %.0f °C", figure.words(), atC())
                : figure.words();
    }
}
