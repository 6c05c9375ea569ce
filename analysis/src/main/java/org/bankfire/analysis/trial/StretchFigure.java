package org.bankfire.analysis.trial;

import org.bankfire.analysis.prediction.Band;

/**
 * What one stretch tells of a figure.
 *
 * @param key which figure
 * @param band value with its 95 % interval, in the figure's unit; NaN when it cannot be told
 * @param ownError standard error that this burn has for itself, on the figure's scale; what is common to all burns of the
 *     forge, such as the probe's error and what the fit took from the description, is left out. NaN when a difference of
 *     burns would not show in it
 * @param jetError standard error that all burns with the same jet have in common, on the figure's scale
 * @param because why it cannot be told, or what the reader must know; may be empty
 * @param would what would tell it; may be empty
 */
public record StretchFigure(FigureKey key, Band band, double ownError, double jetError, String because, String would) {
    static StretchFigure untold(FigureKey key, String because, String would) {
        return new StretchFigure(key, new Band(Double.NaN, Double.NaN, Double.NaN), Double.NaN, 0, because, would);
    }

    /** A value with a standard error on the figure's scale and so many of them to the end of the interval. */
    static StretchFigure told(FigureKey key, double value, double error, double coverage, double ownError) {
        TrialFigure figure = key.figure();
        double middle = figure.scaled(value);
        Band band =
                new Band(value, figure.unscaled(middle - coverage * error), figure.unscaled(middle + coverage * error));
        return new StretchFigure(key, band, ownError, 0, "", "");
    }

    StretchFigure because(String why) {
        return new StretchFigure(key, band, ownError, jetError, why, would);
    }

    StretchFigure withJetError(double error) {
        return new StretchFigure(key, band, ownError, error, because, would);
    }

    /** Whether there is a value. */
    public boolean isTold() {
        return !Double.isNaN(band.value());
    }

    /** Whether a difference of burns would show in it. */
    boolean isComparable() {
        return isTold() && !Double.isNaN(ownError);
    }
}
