package org.bankfire.daemon.bench;

/** Limits of the mean of a Poisson count. */
final class Poisson {
    private Poisson() {}

    /**
     * The mean at which a count as small as this would be seen once in twenty times: the upper limit of a one-sided interval
     * of 95 % (F. Garwood, Biometrika 28, 1936, 437). For none it is 3.0, the rule of three (Hanley and Lippman-Hand, JAMA
     * 249, 1983, 1743).
     */
    static double upper95(long count) {
        double low = count;
        double high = count + 10 + 10 * Math.sqrt(count + 1.0);
        for (int i = 0; i < 60; i++) {
            double mean = (low + high) / 2;
            if (atMost(count, mean) > 0.05) {
                low = mean;
            } else {
                high = mean;
            }
        }
        return (low + high) / 2;
    }

    /** Probability of that count or less, summed from its logarithms lest a large mean underflow. */
    private static double atMost(long count, double mean) {
        double logTerm = -mean;
        double sum = Math.exp(logTerm);
        for (long i = 1; i <= count; i++) {
            logTerm += Math.log(mean / i);
            sum += Math.exp(logTerm);
        }
        return sum;
    }
}
