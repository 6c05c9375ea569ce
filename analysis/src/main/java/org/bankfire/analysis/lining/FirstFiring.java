package org.bankfire.analysis.lining;

import java.util.List;
import org.bankfire.analysis.quantity.Range;

/**
 * How a new lining is dried out and fired for the first time: step after step, each a slow rise to a temperature and a
 * hold there.
 *
 * @param steps in the order in which they are fired, temperatures rising; none when nothing is to be watched, at most
 *     {@link #MOST_STEPS}
 */
public record FirstFiring(List<Step> steps) {
    /** No maker's schedule has more. */
    public static final int MOST_STEPS = 20;
    /** Temperatures to hold, °C. */
    public static final Range TO_C = new Range(40, 1600);
    /** Rises, K/s: 1 K/h, for a thick wet casting, to 3,600 K/h, hardly a limit at all. Common practice, no source. */
    public static final Range RISE_K_PER_S = new Range(1.0 / 3600, 1);
    /** Holds, s. */
    public static final Range HOLD_S = new Range(0, 7 * 86_400.0);

    /** Nothing is watched. */
    public static final FirstFiring NONE = new FirstFiring(List.of());

    /**
     * A cast lining of the thickness of a forge's: free water out below its boiling point, then the water that is bound in
     * the cement. Common practice, no source; the maker's sheet goes before.
     */
    public static final FirstFiring CASTABLE =
            new FirstFiring(List.of(step(110, 30, 6), step(350, 40, 4), step(550, 50, 3), step(1000, 100, 0)));

    /**
     * Light block or brick, laid with mortar or bare: what it has drawn from the air, and the mortar's water. Common
     * practice, no source.
     */
    public static final FirstFiring BLOCK =
            new FirstFiring(List.of(step(120, 60, 2), step(600, 150, 1), step(1000, 300, 0)));

    public FirstFiring {
        steps = List.copyOf(steps);
        if (steps.size() > MOST_STEPS) {
            throw new IllegalArgumentException(
                    "a first firing of " + steps.size() + " steps: allowed are " + MOST_STEPS);
        }
        for (int i = 1; i < steps.size(); i++) {
            if (steps.get(i).toC() <= steps.get(i - 1).toC()) {
                throw new IllegalArgumentException("step " + (i + 1) + " of the first firing goes to "
                        + steps.get(i).toC() + " °C: allowed is above the "
                        + steps.get(i - 1).toC() + " °C of the step before");
            }
        }
    }

    // Factor and product as a unit of the configuration has them, so that a schedule that is written out is the same.
    private static Step step(double toC, double riseKPerH, double holdH) {
        return new Step(toC, riseKPerH * (1.0 / 3600), holdH * 3600);
    }

    /**
     * One step.
     *
     * @param toC temperature of the chamber that it leads to, °C, in {@link #TO_C}
     * @param riseKPerS greatest rise on the way, K/s, in {@link #RISE_K_PER_S}
     * @param holdS how long that temperature is held, s, in {@link #HOLD_S}
     */
    public record Step(double toC, double riseKPerS, double holdS) {
        public Step {
            TO_C.require("temperature of a step of the first firing in °C", toC);
            RISE_K_PER_S.require("rise of a step of the first firing in K/s", riseKPerS);
            HOLD_S.require("hold of a step of the first firing in s", holdS);
        }
    }
}
