package org.bankfire.analysis.flame;

/** A flame rod or photo sensor beside the thermocouple, whose word shifts how much of a fall is enough. */
final class Witness {
    private static final double BRIGHT = 0.5;
    private static final double DARK = 0.2;
    /** A flicker is shorter, µs. */
    private static final long DWELL = 1_000_000;

    /** Above this the glow of the lining alone can light up an optical witness, °C. */
    private static final double GLOW_C = 600;

    /** A third of the fall is enough when the witness is dark: plug and draught alone make no more. */
    private static final double WHEN_DARK = 0.35;

    private static final double WHEN_BRIGHT = 1.15;

    private long darkSince = Long.MAX_VALUE;
    private long brightSince = Long.MAX_VALUE;

    /** What it says, 0 (dark) to 1 (burning). */
    void says(long at, double value) {
        brightSince = value >= BRIGHT ? Math.min(brightSince, at) : Long.MAX_VALUE;
        darkSince = value <= DARK ? Math.min(darkSince, at) : Long.MAX_VALUE;
    }

    /** It has gone. */
    void lost() {
        brightSince = Long.MAX_VALUE;
        darkSince = Long.MAX_VALUE;
    }

    /**
     * Whether it has come to see a flame where no glow can fool it.
     *
     * @param since when there was none for sure, µs: one that was bright before is stuck, or sees something else
     */
    boolean cameToSeeFlame(long at, long since, double chamberC) {
        return brightSince != Long.MAX_VALUE
                && brightSince >= since
                && at - brightSince >= DWELL / 2
                && chamberC < GLOW_C;
    }

    /** Since when it is bright without a break, µs; meaningful while it sees a flame. */
    long brightSince() {
        return brightSince;
    }

    /** Factor on the fall that is needed. */
    double evidence(long at) {
        if (darkSince != Long.MAX_VALUE && at - darkSince >= DWELL) {
            return WHEN_DARK;
        }
        return brightSince != Long.MAX_VALUE ? WHEN_BRIGHT : 1;
    }
}
