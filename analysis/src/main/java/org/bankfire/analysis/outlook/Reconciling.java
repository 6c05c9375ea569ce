package org.bankfire.analysis.outlook;

import org.hipparchus.linear.EigenDecompositionSymmetric;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * Makes forges that are as likely as one another agree with what was measured: the ensemble transform Kalman filter (C. H.
 * Bishop, B. J. Etherton and S. J. Majumdar, Mon. Weather Rev. 129 (2001) 420–436) in the symmetric form of B. R. Hunt, E.
 * J. Kostelich and I. Szunyogh, Physica D 230 (2007) 112–126, for all looks at once. To first order it is the fit of all
 * parameters and temperatures with the members' spread as what is known beforehand. Where the most probable forge misses
 * by more than spread and doubts allow, the spread is widened first by as much as the misses tell.
 *
 * <p>Members are given about the most probable forge, and so are those that come out.
 */
final class Reconciling {
    /** A forge that is wrong by more than five times what was allowed is another forge. */
    private static final double MOST_WIDENING = 5;

    private final double[] shift;
    private final double[][] mixing;
    private final double widening;

    /**
     * Works out how to mix.
     *
     * @param atLooks members less their mean, {@code [look][member]}, over the look's doubt
     * @param misses measured less the most probable forge at each look, over the look's doubt
     */
    Reconciling(double[][] atLooks, double[] misses) {
        int members = atLooks.length == 0 ? 0 : atLooks[0].length;
        RealMatrix spread = MatrixUtils.createRealMatrix(Math.max(1, misses.length), Math.max(1, members));
        for (int k = 0; k < misses.length; k++) {
            spread.setRow(k, atLooks[k]);
        }
        spread = spread.scalarMultiply(1 / Math.sqrt(Math.max(1, members - 1.0)));
        RealMatrix misfit = MatrixUtils.createRealMatrix(Math.max(1, misses.length), 1);
        for (int k = 0; k < misses.length; k++) {
            misfit.setEntry(k, 0, misses[k]);
        }
        double wide = widening(spread, misfit, Math.max(1, misses.length));
        spread = spread.scalarMultiply(wide);
        EigenDecompositionSymmetric parts =
                new EigenDecompositionSymmetric(spread.transpose().multiply(spread));
        RealMatrix vectors = parts.getV();
        int n = vectors.getColumnDimension();
        RealMatrix inverse = MatrixUtils.createRealMatrix(n, n);
        RealMatrix root = MatrixUtils.createRealMatrix(n, n);
        for (int i = 0; i < n; i++) {
            double eigen = 1 + Math.max(0, parts.getEigenvalue(i));
            inverse.setEntry(i, i, 1 / eigen);
            root.setEntry(i, i, 1 / Math.sqrt(eigen));
        }
        RealMatrix back = vectors.transpose();
        shift = vectors.multiply(inverse)
                .multiply(back)
                .multiply(spread.transpose())
                .multiply(misfit)
                .scalarMultiply(wide / Math.sqrt(Math.max(1, n - 1.0)))
                .getColumn(0);
        mixing = vectors.multiply(root).multiply(back).scalarMultiply(wide).getData();
        widening = wide;
    }

    /** Misses over what spread and doubts make expected, root mean square; not below 1. */
    private static double widening(RealMatrix spread, RealMatrix misfit, int looks) {
        RealMatrix expected = spread.multiply(spread.transpose()).add(MatrixUtils.createRealIdentityMatrix(looks));
        double square = misfit.transpose()
                .multiply(MatrixUtils.inverse(expected))
                .multiply(misfit)
                .getEntry(0, 0);
        return Math.min(MOST_WIDENING, Math.max(1, Math.sqrt(square / looks)));
    }

    /** By how much the members' spread was widened, 1 or more. */
    double widening() {
        return widening;
    }

    /**
     * What a figure becomes.
     *
     * @param best of the most probable forge
     * @param members of the members less their mean
     * @param into the figure of the members; may be {@code members}
     * @return the figure of the most probable forge
     */
    double apply(double best, double[] members, double[] into) {
        double moved = best;
        for (int m = 0; m < members.length; m++) {
            moved += shift[m] * members[m];
        }
        double[] mixed = new double[members.length];
        for (int m = 0; m < members.length; m++) {
            mixed[m] = moved;
            for (int j = 0; j < members.length; j++) {
                mixed[m] += mixing[j][m] * members[j];
            }
        }
        System.arraycopy(mixed, 0, into, 0, mixed.length);
        return moved;
    }
}
