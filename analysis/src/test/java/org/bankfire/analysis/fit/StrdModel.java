package org.bankfire.analysis.fit;

import org.hipparchus.analysis.differentiation.Gradient;

/** The models of the reference sets, as written in their files; differentiated exactly, operation by operation. */
enum StrdModel {
    BoxBOD,
    Chwirut2,
    Eckerle4,
    Hahn1,
    MGH09,
    Misra1a,
    Misra1b,
    Rat43;

    /** The response at {@code x} for parameters b. */
    Gradient at(Gradient[] b, double x) {
        return switch (this) {
            case BoxBOD, Misra1a ->
                b[0].multiply(b[1].multiply(-x).exp().negate().add(1));
            case Chwirut2 -> b[0].multiply(-x).exp().divide(b[1].add(b[2].multiply(x)));
            case Eckerle4 -> {
                Gradient z = b[2].negate().add(x).divide(b[1]);
                yield b[0].divide(b[1]).multiply(z.multiply(z).multiply(-0.5).exp());
            }
            case Hahn1 -> cubic(b[0], b[1], b[2], b[3], x).divide(cubic(b[0].newInstance(1), b[4], b[5], b[6], x));
            case MGH09 ->
                b[0].multiply(b[1].multiply(x).add(x * x))
                        .divide(b[2].multiply(x).add(x * x).add(b[3]));
            case Misra1b ->
                b[0].multiply(b[1].multiply(x / 2).add(1).pow(-2).negate().add(1));
            case Rat43 ->
                b[0].divide(b[1].subtract(b[2].multiply(x)).exp().add(1).pow(b[3].reciprocal()));
        };
    }

    private static Gradient cubic(Gradient c0, Gradient c1, Gradient c2, Gradient c3, double x) {
        return c3.multiply(x).add(c2).multiply(x).add(c1).multiply(x).add(c0);
    }
}
