package org.bankfire.analysis.fit;

/**
 * A curve that needs no description of the forge: T(t) = F + Σ a f(t/τ), with the final temperature F, and for each term its
 * height a above F at the first sample (below 0 in a heat-up) and its time constant τ.
 */
public enum EmpiricalCurve {
    /** f(z) = e^−z: one store of heat behind one resistance. */
    ONE_EXPONENTIAL(1),
    /** Two of them: a fast and a slow store, or a store behind a slow sensor. */
    TWO_EXPONENTIALS(2),
    /**
     * f(z) = e^z erfc(√z): the surface of a half-space that is heated through a resistance h, τ = k ρ c / h² (Carslaw and
     * Jaeger, <i>Conduction of Heat in Solids</i>, 2nd ed., section 2.7). It begins as √t, as a light lining does, and ends as
     * 1/√t, so its final temperature lies far beyond any record.
     */
    DIFFUSIVE(1);

    private final int terms;

    EmpiricalCurve(int terms) {
        this.terms = terms;
    }

    /** How many terms the sum has. */
    public int terms() {
        return terms;
    }

    /** f(z), z at least 0. */
    double shape(double z) {
        return this == DIFFUSIVE ? Erfcx.of(Math.sqrt(z)) : Math.exp(-z);
    }

    /** Fills {@code shape} with f(t/τ). */
    void shapes(double[] elapsedS, double tauS, double[] shape) {
        if (this != DIFFUSIVE) {
            Decay.fill(elapsedS, tauS, shape);
            return;
        }
        double rate = 1 / tauS;
        for (int i = 0; i < shape.length; i++) {
            shape[i] = Erfcx.of(Math.sqrt(elapsedS[i] * rate));
        }
    }

    /** Fills {@code slopes} with {@code factor} · z f′(z), z = t/τ, given f: finite at 0, while the half-space's f′ is not. */
    void slopes(double[] elapsedS, double tauS, double[] shape, double factor, double[] slopes) {
        double rate = 1 / tauS;
        for (int i = 0; i < shape.length; i++) {
            double z = elapsedS[i] * rate;
            slopes[i] = factor * (this == DIFFUSIVE ? z * shape[i] - Math.sqrt(z * (1 / Math.PI)) : -z * shape[i]);
        }
    }
}
