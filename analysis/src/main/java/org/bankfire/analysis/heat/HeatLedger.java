package org.bankfire.analysis.heat;

/**
 * Where the heat input went over a stretch of time, in mean W or in J.
 *
 * @param input fuel times its lower heating value
 * @param flue sensible and unburnt heat that left with the gas
 * @param lining given off by the lining's outer face
 * @param openings radiated out through the openings
 * @param stock taken by the stock
 * @param stored taken by the lining to keep, negative while it gives heat back
 */
public record HeatLedger(double input, double flue, double lining, double openings, double stock, double stored) {
    /** What is missing in the sum: rounding, and nothing else. */
    public double gap() {
        return input - flue - lining - openings - stock - stored;
    }

    /** What came since {@code before}. */
    public HeatLedger since(HeatLedger before) {
        return new HeatLedger(
                input - before.input,
                flue - before.flue,
                lining - before.lining,
                openings - before.openings,
                stock - before.stock,
                stored - before.stored);
    }

    /** All divided by {@code divisor}. */
    public HeatLedger over(double divisor) {
        return new HeatLedger(
                input / divisor,
                flue / divisor,
                lining / divisor,
                openings / divisor,
                stock / divisor,
                stored / divisor);
    }
}
