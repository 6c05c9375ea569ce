package org.bankfire.analysis.outlook;

import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeRun;

/** One forge turned off for a pause and lit again. */
final class PauseWalk {
    /** A heating back that takes longer is none. */
    private static final double LONGEST_S = 3 * 3600;

    private static final double FIRST_LOOK_S = 10;
    private static final double NEXT_LOOK = 1.15;

    private PauseWalk() {}

    /**
     * Time from lighting until the probe shows the target again, s; NaN when it does not within three hours.
     *
     * @param from the forge at the target; it stays as it is
     * @param pauseS with the gas off, s
     * @param working the fire then
     * @param targetK K
     */
    static double relightS(ForgeRun from, double pauseS, Firing working, double targetK) {
        ForgeRun run = new ForgeRun(from);
        run.fire(Firing.OFF);
        run.advanceTo(from.timeS() + pauseS);
        return heatingS(run, working, targetK);
    }

    /** Time from the present moment of a run until the probe shows the target, s; the run goes along. */
    static double heatingS(ForgeRun run, Firing working, double targetK) {
        double startS = run.timeS();
        run.fire(working);
        double beforeK = run.chamberK();
        double lookS = FIRST_LOOK_S;
        double beforeS = 0;
        while (beforeS < LONGEST_S) {
            if (beforeK >= targetK) {
                return beforeS;
            }
            run.advanceTo(startS + lookS);
            if (run.chamberK() >= targetK) {
                return beforeS + (lookS - beforeS) * (targetK - beforeK) / (run.chamberK() - beforeK);
            }
            beforeK = run.chamberK();
            beforeS = lookS;
            lookS *= NEXT_LOOK;
        }
        return Double.NaN;
    }
}
