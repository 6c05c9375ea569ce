package org.bankfire.analysis.burnfit;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.fit.Estimate;
import org.bankfire.analysis.fit.FitResult;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.LatinHypercube;
import org.bankfire.analysis.prediction.Prior;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RectangularCholeskyDecomposition;

/**
 * The forge that a fit has told: forges drawn from the joint distribution of the parameters, normal in their logarithms to
 * first order (GUM, Supplement 1, draws members likewise). What a thermometer in the chamber says nothing of, the outer
 * face, is drawn from what is believed beforehand.
 */
final class ToldForge {
    /** Enough that the ends of an interval of 95 % rest on more than one member each. */
    static final int MEMBERS = 64;

    /** Pivots below this share of a variance of 1 are rounding. */
    private static final double SMALL = 1e-12;

    private ToldForge() {}

    static KnownForge of(ForgeDescription forge, FitResult.Converged fit) {
        List<Estimate> estimates = fit.estimates();
        double[] best = estimates.stream().mapToDouble(Estimate::value).toArray();
        double openingM2 = Unknown.nominalOpeningM2(forge);
        RealMatrix root = rootOfCovariance(fit, best);
        double outerFace = Prior.of(forge).stream()
                .filter(prior -> prior.name().equals("outerFace"))
                .findFirst()
                .orElseThrow()
                .relativeStandardDeviation();
        List<ForgeParameters> members = new ArrayList<>(MEMBERS);
        for (double[] deviations : LatinHypercube.normal(MEMBERS, root.getColumnDimension() + 1)) {
            double[] at = best.clone();
            for (int j = 0; j < at.length; j++) {
                double log = 0;
                for (int k = 0; k < root.getColumnDimension(); k++) {
                    log += root.getEntry(j, k) * deviations[k];
                }
                at[j] *= Math.exp(log);
            }
            double outer = Math.exp(outerFace * deviations[root.getColumnDimension()]);
            members.add(withOuterFace(Unknown.forgeParameters(at, openingM2), outer));
        }
        return new KnownForge(forge, Unknown.forgeParameters(best, openingM2), members, KnownForge.Basis.FITTED);
    }

    /** A root of the covariance of the logarithms; what lies at a bound stays there. */
    private static RealMatrix rootOfCovariance(FitResult.Converged fit, double[] best) {
        int n = best.length;
        double[][] relative = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                double entry = fit.covariance().at(i, j) / (best[i] * best[j]);
                relative[i][j] = Double.isFinite(entry) ? entry : 0;
            }
        }
        return new RectangularCholeskyDecomposition(MatrixUtils.createRealMatrix(relative), SMALL).getRootMatrix();
    }

    private static ForgeParameters withOuterFace(ForgeParameters of, double outerFace) {
        return new ForgeParameters(
                of.heatRelease(),
                of.mixture(),
                of.conductivity(),
                of.capacity(),
                of.opening(),
                of.probeLagS(),
                of.convection(),
                of.gasEmissivity(),
                outerFace,
                of.draught(),
                of.probeConvection());
    }
}
