package org.bankfire.analysis.correction;

/**
 * Tells a single reading that lies further away than a probe can have moved. The second reading in the new place is
 * believed, so a real step costs one reading and nothing can lock the channel out.
 */
final class JumpTest {
    private static final double MICROS_PER_SECOND = 1e6;

    private final double floor;
    private final double ratePerS;
    private double base = Double.NaN;
    private long baseMicros;
    private double candidate = Double.NaN;
    private long candidateMicros;

    JumpTest(double floor, double ratePerS) {
        this.floor = floor;
        this.ratePerS = ratePerS;
    }

    /** Takes the next value and says whether it is a spike. A value no newer than the last one is not judged. */
    boolean isSpike(double value, long micros) {
        if (!Double.isNaN(base) && micros <= Math.max(baseMicros, candidateMicros)) {
            return notInOrder(micros);
        }
        if (Double.isNaN(base)
                || reaches(base, baseMicros, value, micros)
                || reaches(candidate, candidateMicros, value, micros)) {
            base = value;
            baseMicros = micros;
            candidate = Double.NaN;
            candidateMicros = micros;
            return false;
        }
        candidate = value;
        candidateMicros = micros;
        return true;
    }

    private boolean notInOrder(long micros) {
        // After the clock was set back the old base lies in the future for good: begin again.
        if (baseMicros - micros > 60 * MICROS_PER_SECOND) {
            base = Double.NaN;
            candidate = Double.NaN;
        }
        return false;
    }

    private boolean reaches(double from, long fromMicros, double to, long toMicros) {
        return Math.abs(to - from) <= floor + ratePerS * ((toMicros - fromMicros) / MICROS_PER_SECOND);
    }
}
