package org.bankfire.analysis.fit;

/** How much a residual counts, by its size in standard deviations of the noise. */
public sealed interface Loss {
    /** Sum of squares: the best for normal noise, ruined by one spike. */
    Loss SQUARES = new Squares();

    /**
     * Huber's loss at k = 1.345: 95 % as efficient as squares under normal noise (Holland and Welsch, <i>Robust regression
     * using iteratively reweighted least-squares</i>, Communications in Statistics A6, 1977).
     */
    Loss HUBER = new Huber(1.345);

    /** Weight of the squared residual in iteratively reweighted least squares: ψ(z) / z. */
    double weight(double z);

    /** Whether {@code z} lies where the loss is quadratic: ψ′(z) is 1 there and 0 elsewhere. */
    boolean quadratic(double z);

    /** Plain squares. */
    record Squares() implements Loss {
        @Override
        public double weight(double z) {
            return 1;
        }

        @Override
        public boolean quadratic(double z) {
            return true;
        }
    }

    /**
     * Squares up to k standard deviations, straight beyond (Huber, <i>Robust estimation of a location parameter</i>, Annals
     * of Mathematical Statistics 35, 1964).
     *
     * @param k tuning constant, standard deviations, above 0
     */
    record Huber(double k) implements Loss {
        public Huber {
            if (!(k > 0)) {
                throw new IllegalArgumentException("Huber's constant is " + k + ": above 0 is allowed");
            }
        }

        @Override
        public double weight(double z) {
            double size = Math.abs(z);
            return size <= k ? 1 : k / size;
        }

        @Override
        public boolean quadratic(double z) {
            return Math.abs(z) <= k;
        }
    }
}
