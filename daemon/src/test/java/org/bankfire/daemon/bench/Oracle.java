package org.bankfire.daemon.bench;

import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.bankfire.daemon.acquire.virtual.VirtualForge;

/**
 * What could be known of a flame-out by who knows the forge as it is: three twins of it, one that burns on, one whose flame is
 * out, and some that are given rated stock at that moment. A flame-out can be told for sure from when the probe has fallen
 * further than with rated stock by three standard deviations of one reading.
 *
 * <p>Who takes the mean of many readings may be quicker by a little; who does not know the forge will be slower.
 *
 * @param delayS from the last moment of flame; NaN when a minute is not enough
 * @param fallK of the probe in four seconds when the flame is out, against burning on
 * @param stockFallK the same with rated stock
 */
record Oracle(double delayS, double fallK, double stockFallK) {
    static final Oracle NONE = new Oracle(Double.NaN, Double.NaN, Double.NaN);

    private static final double STEP_S = 0.1;
    static final double LONGEST_S = 60;
    private static final double LOOK_S = 4;
    private static final double SIGMAS = 3;
    /** Thin bars and thick ones, m. */
    private static final double[] BARS_M = {0.008, 0.016, 0.04};

    /**
     * Rated stock of one forge.
     *
     * @param surfaceM2 of all bars
     * @param seenShare of what the probe sees, as {@link VirtualForge#stockIn(double, int, double)} takes it
     */
    record RatedStock(double surfaceM2, double seenShare) {}

    /** Of a forge that still burns. */
    static Oracle of(VirtualForge forge, RatedStock stock) {
        VirtualForge burning = forge.quietTwin();
        VirtualForge out = forge.quietTwin();
        out.putOut();
        VirtualForge[] stocked = new VirtualForge[BARS_M.length];
        for (int i = 0; i < stocked.length; i++) {
            stocked[i] = forge.quietTwin();
            putIn(stocked[i], BARS_M[i], stock);
        }
        double margin = SIGMAS * sigmaK(forge);
        double delayS = Double.NaN;
        double fallK = Double.NaN;
        double stockFallK = Double.NaN;
        int looks = (int) Math.round(LONGEST_S / STEP_S);
        for (int i = 1; i <= looks && (Double.isNaN(delayS) || Double.isNaN(fallK)); i++) {
            burning.step(STEP_S);
            out.step(STEP_S);
            double most = 0;
            for (VirtualForge each : stocked) {
                each.step(STEP_S);
                most = Math.max(most, burning.probeC() - each.probeC());
            }
            double fall = burning.probeC() - out.probeC();
            if (Double.isNaN(delayS) && fall - most >= margin) {
                delayS = i * STEP_S;
            }
            if (i == Math.round(LOOK_S / STEP_S)) {
                fallK = fall;
                stockFallK = most;
            }
        }
        return new Oracle(delayS, fallK, stockFallK);
    }

    /** As many bars as come nearest to the rated surface without passing it, and the rest by their thickness. */
    private static void putIn(VirtualForge forge, double barM, RatedStock stock) {
        double perMetre = Math.PI * forge.barLengthM();
        int count = Math.max(1, (int) (stock.surfaceM2() / (perMetre * barM)));
        forge.stockIn(Math.min(0.1, stock.surfaceM2() / (perMetre * count)), count, stock.seenShare());
    }

    /** Of one reading: sensor, converter and what of the flutter comes through the probe. */
    private static double sigmaK(VirtualForge forge) {
        ForgeTraits traits = forge.traits();
        ForgeTraits.Noise noise = traits.noise();
        // First-order noise of 1.2 s through a first-order lag.
        double through = Math.sqrt(1.2 / (1.2 + traits.probe().lagS()));
        double flutter = noise.flutterK() * traits.probe().gasShare() * through;
        return Math.sqrt(noise.chamberK() * noise.chamberK()
                + noise.chamberStepK() * noise.chamberStepK() / 12
                + flutter * flutter);
    }
}
