package org.bankfire.analysis.fit;

import java.util.List;

/** Covariance of the estimates: in products of their units. NaN for a parameter that lies at its bound. */
public final class Covariance {
    private final List<String> names;
    private final double[][] entries;

    Covariance(List<String> names, double[][] entries) {
        this.names = List.copyOf(names);
        this.entries = entries;
    }

    /** Of two parameters, or the variance of one, by their places in the problem. */
    public double at(int one, int other) {
        return entries[one][other];
    }

    /** Of two parameters, or the variance of one. */
    public double of(String one, String other) {
        return entries[place(one)][place(other)];
    }

    /** Correlation, −1 to 1. */
    public double correlation(String one, String other) {
        return of(one, other) / Math.sqrt(of(one, one) * of(other, other));
    }

    /**
     * Standard error of a quantity derived from the parameters, first order (GUM 5.2.2): √(gᵀ C g).
     *
     * @param gradient its derivatives by the parameters, in the problem's order; 0 for one at its bound
     */
    public double standardError(double[] gradient) {
        double sum = 0;
        for (int i = 0; i < gradient.length; i++) {
            for (int j = 0; j < gradient.length; j++) {
                if (gradient[i] != 0 && gradient[j] != 0) {
                    sum += gradient[i] * entries[i][j] * gradient[j];
                }
            }
        }
        return Math.sqrt(Math.max(sum, 0));
    }

    private int place(String name) {
        int place = names.indexOf(name);
        if (place < 0) {
            throw new IllegalArgumentException("no parameter " + name + " among " + names);
        }
        return place;
    }
}
