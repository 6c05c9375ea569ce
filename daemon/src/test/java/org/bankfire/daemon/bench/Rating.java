package org.bankfire.daemon.bench;

/**
 * The stock that an alarm has to bear.
 *
 * @param surfaceShare surface of all bars over the inner surface of the chamber, above 0 to 0.5
 * @param seenShare what the probe sees of them at most, as a part of their share of the surface, 0 to 0.4. Of radiation alone,
 *     cold bars that take the share F of the view lower what it settles at by 1 − (1 − F)^¼ of its absolute temperature, or
 *     about F/3 of what it is above the bars; bars that lie side by side hide each other and show perhaps six tenths of their
 *     surface, which makes 0.2. How much of that a probe sees hangs on its place: every forge has its own part of it.
 */
record Rating(double surfaceShare, double seenShare) {
    /** Of the alarms' description. */
    static final Rating USUAL = new Rating(0.08, 0.2);

    Rating {
        if (!(surfaceShare > 0 && surfaceShare <= 0.5) || !(seenShare >= 0 && seenShare <= 0.4)) {
            throw new IllegalArgumentException("rated stock " + surfaceShare + " of the surface, seen as " + seenShare
                    + " of that: allowed are above 0 to 0.5, and 0 to 0.4");
        }
    }
}
