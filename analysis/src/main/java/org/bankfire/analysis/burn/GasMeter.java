package org.bankfire.analysis.burn;

/**
 * Mass of gas that has gone through the jet: trapezoids of the mass flow over event time. A gap between two flows is
 * bridged up to {@link #LONGEST_GAP_S}; of a longer one nothing is counted, since nobody knows what the gas did.
 */
public final class GasMeter {
    /** Longest gap that is bridged by a straight line, s: a reconnect of a source, not a lunch break. */
    public static final double LONGEST_GAP_S = 60;

    private static final double MICROS_PER_S = 1e6;

    private boolean running;
    private long lastMicros;
    private double lastFlowKgPerS;
    private double usedKg;

    /** Starts from nothing used. */
    public void reset() {
        running = false;
        usedKg = 0;
    }

    /** Takes a flow, kg/s, 0 or more; {@code atMicros} must not be before that of the last one. */
    public void add(long atMicros, double flowKgPerS) {
        if (running) {
            double seconds = (atMicros - lastMicros) / MICROS_PER_S;
            if (seconds <= LONGEST_GAP_S) {
                usedKg += seconds * (flowKgPerS + lastFlowKgPerS) / 2;
            }
        }
        running = true;
        lastMicros = atMicros;
        lastFlowKgPerS = flowKgPerS;
    }

    /** Used since the last reset, kg. */
    public double usedKg() {
        return usedKg;
    }
}
