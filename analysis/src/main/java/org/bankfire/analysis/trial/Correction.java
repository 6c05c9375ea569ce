package org.bankfire.analysis.trial;

import java.util.List;

/**
 * What the model says a figure would change by under other conditions, on the figure's scale.
 *
 * @param start by starting from the common temperature
 * @param ambient by the common surroundings after that
 * @param pressure by the common gas pressure, from gas on, after that
 * @param doubt standard uncertainty that this burn's correction has for itself: how warm a warm forge is throughout
 * @param members the whole correction by each of the forges that are possible, in their order
 */
public record Correction(double start, double ambient, double pressure, double doubt, List<Double> members) {
    static final Correction NONE = new Correction(0, 0, 0, 0, List.of());

    public Correction {
        members = List.copyOf(members);
    }

    /** The same as the reader has it: K, or %. */
    public Correction shown(TrialFigure figure) {
        return new Correction(
                figure.shown(start), figure.shown(ambient), figure.shown(pressure), figure.shown(doubt), members);
    }

    /** All three together. */
    public double total() {
        return start + ambient + pressure;
    }
}
