package org.bankfire.daemon.report.series;

import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.trial.FigureKey;
import org.bankfire.daemon.report.burn.Phrases;
import org.bankfire.dashboard.source.ReportBook.Temperature;

/** Figures of trials as one reader takes them. */
final class SeriesFigures {
    private static final double PERCENT = 100;

    private final Phrases phrases;

    SeriesFigures(Phrases phrases) {
        this.phrases = phrases;
    }

    /** The name of a figure. */
    String name(FigureKey key) {
        return phrases.retold(key.words());
    }

    /** A value with its 95 % interval. */
    String value(FigureKey key, Band band) {
        Temperature unit = phrases.reader().temperature();
        return switch (key.figure()) {
            case TIME_TO_TARGET ->
                Phrases.time(band.value()) + " (" + Phrases.time(band.low95()) + " to " + Phrases.time(band.high95())
                        + ")";
            case HEATING_RATE -> scaled(band, unit.step(1), 0, unit.stepLabel() + "/min");
            case STEADY_TEMPERATURE -> scaled(band, unit.step(1), unit.of(0), unit.label());
            case GAS_AT_TARGET -> scaled(band, 1, 0, "kg/h");
            case LOSS_COEFFICIENT -> scaled(band, 1, 0, "W/K");
            case EFFICIENCY -> scaled(band, PERCENT, 0, "%");
            case MIXTURE -> scaled(band, 1, 0, "");
            case CHAMBER_FLUTTER -> scaled(band, unit.step(1), 0, unit.stepLabel());
            case GAS_FLUTTER -> scaled(band, 1, 0, "Pa");
        };
    }

    private static String scaled(Band band, double factor, double zero, String unit) {
        return Phrases.interval(
                band.value() * factor + zero, band.low95() * factor + zero, band.high95() * factor + zero, unit);
    }

    /** A difference in K or % with its interval. */
    String difference(FigureKey key, double value, double low, double high) {
        Temperature unit = phrases.reader().temperature();
        double factor = key.figure().isPlain() ? unit.step(1) : 1;
        String told = Phrases.interval(
                value * factor, low * factor, high * factor, key.figure().isPlain() ? unit.stepLabel() : "%");
        return value > 0 ? "+" + told : told;
    }

    /** A part of a correction, with its sign. */
    String correction(FigureKey key, double value) {
        double shown = key.figure().isPlain() ? phrases.reader().temperature().step(value) : value;
        String text = Phrases.fixed(shown, 1);
        return (shown >= 0.05 ? "+" : "") + text + "\u00a0"
                + (key.figure().isPlain() ? phrases.reader().temperature().stepLabel() : "%");
    }

    /** Why something cannot be told, and what would. */
    String untold(String what, String because, String would) {
        return sentence(what + ": cannot tell, " + because + (would.isEmpty() ? "" : "; would tell: " + would));
    }

    /** A sentence in the reader's unit of temperature. */
    String sentence(String words) {
        return Phrases.sentence(phrases.retold(words));
    }
}
