package org.bankfire.analysis.prediction;

import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeRun;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/** Gas that holds a temperature for the next minutes, while the lining still takes heat, less from minute to minute. */
final class Holding {
    /** How long one setting of the regulator shall do. */
    static final double FOR_S = 300;

    /** A thousandth of the flow that is tried at most: less than a regulator can be set to. */
    private static final double ACCURACY = 1e-3;

    private static final int MOST_EVALUATIONS = 60;

    private Holding() {}

    /**
     * Gas flow with which the probe shows the temperature again after {@link #FOR_S}.
     *
     * @param run the forge now; it stays as it is
     * @param chamberK what the probe shall show, K
     * @param mostKgPerS more is not tried, kg/s
     * @return kg/s; NaN when {@code mostKgPerS} is too little; 0 when it stays above without gas
     */
    static double kgPerS(ForgeRun run, double chamberK, double mostKgPerS) {
        if (aboveK(run, mostKgPerS, chamberK) < 0) {
            return Double.NaN;
        }
        double least = mostKgPerS * ACCURACY;
        if (aboveK(run, least, chamberK) > 0) {
            return 0;
        }
        return new BracketingNthOrderBrentSolver(ACCURACY, mostKgPerS * ACCURACY, 5)
                .solve(MOST_EVALUATIONS, flow -> aboveK(run, flow, chamberK), least, mostKgPerS);
    }

    private static double aboveK(ForgeRun run, double gasKgPerS, double chamberK) {
        ForgeRun ahead = new ForgeRun(run);
        ahead.fire(new Firing(gasKgPerS, true));
        ahead.advanceTo(run.timeS() + FOR_S);
        return ahead.chamberK() - chamberK;
    }
}
