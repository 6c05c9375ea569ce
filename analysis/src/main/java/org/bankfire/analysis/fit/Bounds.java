package org.bankfire.analysis.fit;

/**
 * Where a parameter may lie, held by a smooth change of variable: the solver moves a free coordinate u over all reals and
 * the parameter x(u) never leaves its range. Both changes are monotone, so no solution is found twice.
 */
public sealed interface Bounds {
    /** No bound: x = scale · u. */
    Bounds NONE = new Unbounded();
    /** Above 0: x = scale · e^u. */
    Bounds POSITIVE = new Above(0);

    /** Whether {@code value} lies strictly inside. */
    boolean contains(double value);

    /** The free coordinate of {@code value}, which lies strictly inside. */
    double toFree(double value, double scale);

    /** The parameter at that free coordinate. */
    double fromFree(double free, double scale);

    /** dx/du at that free coordinate. */
    double slope(double free, double scale);

    /**
     * Whether {@code value} is pressed against a bound: nearer than a millionth of the range, or of the scale where the
     * range is open. The data then say nothing about it but on which side of the bound they would like it.
     */
    boolean touches(double value, double scale);

    /** A millionth: far below any interval that a record gives, far above rounding. */
    double TOUCH = 1e-6;

    /** All reals. */
    record Unbounded() implements Bounds {
        @Override
        public boolean contains(double value) {
            return Double.isFinite(value);
        }

        @Override
        public double toFree(double value, double scale) {
            return value / scale;
        }

        @Override
        public double fromFree(double free, double scale) {
            return free * scale;
        }

        @Override
        public double slope(double free, double scale) {
            return scale;
        }

        @Override
        public boolean touches(double value, double scale) {
            return false;
        }
    }

    /**
     * Above a limit: x = low + scale · e^u.
     *
     * @param low the limit, in the parameter's unit
     */
    record Above(double low) implements Bounds {
        public Above {
            if (!Double.isFinite(low)) {
                throw new IllegalArgumentException("lower bound is " + low + ": a finite number is allowed");
            }
        }

        @Override
        public boolean contains(double value) {
            return value > low && Double.isFinite(value);
        }

        @Override
        public double toFree(double value, double scale) {
            return Math.log((value - low) / scale);
        }

        @Override
        public double fromFree(double free, double scale) {
            return low + scale * Math.exp(free);
        }

        @Override
        public double slope(double free, double scale) {
            return scale * Math.exp(free);
        }

        @Override
        public boolean touches(double value, double scale) {
            return value - low < TOUCH * scale;
        }
    }

    /**
     * Between two limits: x = low + (high − low) / (1 + e^−u).
     *
     * @param low lower limit, in the parameter's unit
     * @param high upper limit, above {@code low}
     */
    record Between(double low, double high) implements Bounds {
        public Between {
            if (!(low < high && Double.isFinite(low) && Double.isFinite(high))) {
                throw new IllegalArgumentException(
                        "bounds are " + low + " to " + high + ": two finite, rising numbers");
            }
        }

        @Override
        public boolean contains(double value) {
            return value > low && value < high;
        }

        @Override
        public double toFree(double value, double scale) {
            return Math.log((value - low) / (high - value));
        }

        @Override
        public double fromFree(double free, double scale) {
            return free > 0
                    ? high - (high - low) * Math.exp(-free) / (1 + Math.exp(-free))
                    : low + (high - low) * Math.exp(free) / (1 + Math.exp(free));
        }

        @Override
        public double slope(double free, double scale) {
            double tail = Math.exp(-Math.abs(free));
            return (high - low) * tail / ((1 + tail) * (1 + tail));
        }

        @Override
        public boolean touches(double value, double scale) {
            return Math.min(value - low, high - value) < TOUCH * (high - low);
        }
    }
}
