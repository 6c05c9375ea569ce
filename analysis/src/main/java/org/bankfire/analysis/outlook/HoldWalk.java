package org.bankfire.analysis.outlook;

import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeRun;

/**
 * One forge held at the target from now on: over each of some intervals one gas flow with which the chamber is at the
 * target on the mean, so that no interval pays for another's overshoot.
 */
final class HoldWalk {
    /**
     * Ends of the intervals, s. A setting of the regulator shall do for five minutes; later ones are longer as the lining's
     * demand falls more and more slowly.
     */
    static final double[] ENDS_S = {300, 600, 1200, 2100, 3600, 6000, 9600, 14_400};

    /** The mean is taken at these shares of an interval: at once after a turn the probe shows the flame's change only. */
    private static final double[] AT_SHARES = {0.25, 0.5, 0.75, 1};

    private static final double ACCURACY_K = 0.3;
    private static final int MOST_ROUNDS = 12;
    /** What a change of the flow's logarithm does within five minutes, to begin the search with. */
    private static final double USUAL_K = 250;
    /** Of the flow that is tried at most. */
    private static final double LEAST = 1e-3;

    private HoldWalk() {}

    /**
     * Flows that hold a temperature.
     *
     * @param from the forge; it stays as it is
     * @param targetK what the probe shall show, K
     * @param mostKgPerS more is not tried, kg/s
     * @return kg/s for each interval; 0 where it stays above without gas, NaN from where {@code mostKgPerS} is too little
     */
    static double[] flows(ForgeRun from, double targetK, double guessKgPerS, double mostKgPerS) {
        double[] flows = new double[ENDS_S.length];
        ForgeRun run = new ForgeRun(from);
        double startS = run.timeS();
        double guess = guessKgPerS;
        for (int i = 0; i < flows.length; i++) {
            double toS = startS + ENDS_S[i];
            flows[i] = flow(run, toS, targetK, guess, mostKgPerS);
            if (Double.isNaN(flows[i])) {
                for (int later = i; later < flows.length; later++) {
                    flows[later] = Double.NaN;
                }
                break;
            }
            run.fire(new Firing(flows[i], flows[i] > 0));
            run.advanceTo(toS);
            guess = flows[i] > 0 ? flows[i] : guess;
        }
        return flows;
    }

    /** A secant search within a bracket, on a function that rises with the flow nearly as its logarithm. */
    private static double flow(ForgeRun run, double toS, double targetK, double guess, double most) {
        double low = most * LEAST;
        double high = most;
        double tried = Math.min(high, Math.max(low, guess));
        double triedK = aboveK(run, tried, toS, targetK);
        double next = tried * Math.exp(-triedK / USUAL_K);
        for (int n = 0; n < MOST_ROUNDS && Math.abs(triedK) > ACCURACY_K; n++) {
            if (triedK > 0) {
                high = tried;
            } else {
                low = tried;
            }
            if (tried == most && triedK < 0) {
                return Double.NaN;
            }
            if (tried == most * LEAST && triedK > 0) {
                return 0;
            }
            boolean inside = next > low && next < high;
            double now = inside
                    ? next
                    : next >= high && high == most
                            ? most
                            : next <= low && low == most * LEAST ? low : Math.sqrt(low * high);
            double nowK = aboveK(run, now, toS, targetK);
            double slopeK = (nowK - triedK) / Math.log(now / tried);
            next = now * Math.exp(-nowK / (slopeK > 1 ? slopeK : USUAL_K));
            tried = now;
            triedK = nowK;
        }
        return tried;
    }

    private static double aboveK(ForgeRun run, double gasKgPerS, double toS, double targetK) {
        ForgeRun ahead = new ForgeRun(run);
        ahead.fire(new Firing(gasKgPerS, true));
        double startS = run.timeS();
        double sum = 0;
        for (double share : AT_SHARES) {
            ahead.advanceTo(startS + share * (toS - startS));
            sum += ahead.chamberK();
        }
        return sum / AT_SHARES.length - targetK;
    }
}
