package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.analysis.lining.Slab.Face;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The error falls with the square of step and cell. Asserted is the order between each two of three halvings, 1.8 at
 * least: a scheme of first order shows 1.
 */
class ConvergenceTest {
    private static final double LEAST_ORDER = 1.8;
    private static final double THICKNESS_M = 0.1;
    private static final double DENSITY = 500;
    private static final double HEAT_CAPACITY = 1000;
    private static final double CONDUCTIVITY = 0.2;
    private static final double GAS_K = 400;
    private static final double SWING_K = 300;
    /** First root of ζ tan ζ = 5 (Incropera, table 5.1: 1.3138 for a Biot number of 5). */
    private static final double ROOT = 1.313_837_716;

    private static final double COEFFICIENT = 5 * CONDUCTIVITY / THICKNESS_M;
    private static final double DIFFUSIVITY = CONDUCTIVITY / (DENSITY * HEAT_CAPACITY);
    private static final double RATE_PER_S = DIFFUSIVITY * ROOT * ROOT / (THICKNESS_M * THICKNESS_M);

    /**
     * First term of the series for a plane wall with convection at its front and an insulated back (Incropera, section
     * 5.5): an exact solution by itself when the wall starts with it, and smooth.
     */
    private static double exactK(double depthM, double timeS) {
        return GAS_K + SWING_K * Math.cos(ROOT * (1 - depthM / THICKNESS_M)) * Math.exp(-RATE_PER_S * timeS);
    }

    private static double errorK(double cellM, double growth, double stepS, double timeS) {
        Slab slab = Slab.flat(
                        List.of(Slab.layer(THICKNESS_M, DENSITY, HEAT_CAPACITY, CONDUCTIVITY)),
                        cellM,
                        growth,
                        depthM -> exactK(depthM, 0))
                .faces(Face.convection(COEFFICIENT, GAS_K), Face.INSULATED);
        slab.run(timeS, stepS);
        double worst = 0;
        for (int i = 0; i < slab.nodes(); i++) {
            worst = Math.max(worst, Math.abs(slab.nodeK(i) - exactK(slab.grid().depthM(i), timeS)));
        }
        return worst;
    }

    private static double order(double coarse, double fine) {
        return Math.log(coarse / fine) / Math.log(2);
    }

    private static void assertSecondOrder(double[] errors) {
        for (int i = 1; i < errors.length; i++) {
            assertThat(order(errors[i - 1], errors[i]))
                    .as("%s after %s", errors[i], errors[i - 1])
                    .isBetween(LEAST_ORDER, 2.5);
        }
    }

    @Test
    void theRootIsTheOneOfItsBiotNumber() {
        assertThat(ROOT * Math.tan(ROOT)).isBetween(5 - 1e-6, 5 + 1e-6);
    }

    @Test
    void theErrorFallsWithTheSquareOfTheStep() {
        double timeS = 0.5 / RATE_PER_S;
        double[] errors = new double[4];
        for (int i = 0; i < errors.length; i++) {
            // Cells so fine that they do not matter: 0.2 mm.
            errors[i] = errorK(2e-4, 1, timeS / (4 << i), timeS);
        }
        assertSecondOrder(errors);
    }

    @ParameterizedTest
    @ValueSource(doubles = {1, 1.5})
    void theErrorFallsWithTheSquareOfTheCell(double growth) {
        double timeS = 0.5 / RATE_PER_S;
        double[] errors = new double[4];
        double finer = growth;
        for (int i = 0; i < errors.length; i++) {
            // A grid that grows is halved by growing twice as often by the root.
            double cellM = growth == 1 ? 0.01 / (1 << i) : THICKNESS_M * (finer - 1) / (Math.pow(growth, 6) - 1);
            errors[i] = errorK(cellM, finer, timeS / 2000, timeS);
            finer = Math.sqrt(finer);
        }
        assertSecondOrder(errors);
    }

    /**
     * A made-up course of temperatures in a wall whose conductivity rises straight with temperature, by a factor of two and
     * a half, and the heat source that belongs to it: T = T0 + A cos(π x / L) exp(−t / τ), both faces insulated.
     */
    private static double manufacturedErrorK(double cellM, double stepS) {
        double lowK = 300;
        double highK = 1300;
        double low = 0.1;
        double rise = 0.15 / (highK - lowK);
        double middleK = 800;
        double swingK = 450;
        double tauS = 20_000;
        double wave = Math.PI / THICKNESS_M;
        double perM3 = DENSITY * HEAT_CAPACITY;
        Slab slab = Slab.flat(
                List.of(Slab.layer(
                        THICKNESS_M,
                        DENSITY,
                        HEAT_CAPACITY,
                        new ConductivityPoint(lowK, low),
                        new ConductivityPoint(highK, low + rise * (highK - lowK)))),
                cellM,
                1,
                depthM -> middleK + swingK * Math.cos(wave * depthM));
        int steps = (int) Math.round(8000 / stepS);
        for (int n = 0; n < steps; n++) {
            // The source of the middle of the step: right to second order.
            double now = swingK * Math.exp(-(n + 0.5) * stepS / tauS);
            slab.source(
                    depthM -> {
                        double excess = now * Math.cos(wave * depthM);
                        double slope = now * wave * Math.sin(wave * depthM);
                        double conductivity = low + rise * (middleK + excess - lowK);
                        return -perM3 * excess / tauS + conductivity * wave * wave * excess - rise * slope * slope;
                    },
                    perM3);
            slab.step(stepS);
        }
        double worst = 0;
        for (int i = 0; i < slab.nodes(); i++) {
            double exact = middleK
                    + swingK
                            * Math.exp(-8000 / tauS)
                            * Math.cos(wave * slab.grid().depthM(i));
            worst = Math.max(worst, Math.abs(slab.nodeK(i) - exact));
        }
        return worst;
    }

    @Test
    void bothOrdersHoldWithAConductivityThatRises() {
        double[] ofSteps = new double[3];
        double[] ofCells = new double[3];
        for (int i = 0; i < 3; i++) {
            ofSteps[i] = manufacturedErrorK(2e-4, 2000.0 / (1 << i));
            ofCells[i] = manufacturedErrorK(0.01 / (1 << i), 4);
        }
        assertSecondOrder(ofSteps);
        assertSecondOrder(ofCells);
    }

    /** The error estimate of a step is no smaller than its error, and falls with the square of the step at least. */
    @Test
    void aStepOwnsUpToItsError() {
        double beforeK = Double.NaN;
        for (double stepS : new double[] {8000, 4000, 2000}) {
            Slab slab = Slab.flat(
                            List.of(Slab.layer(THICKNESS_M, DENSITY, HEAT_CAPACITY, CONDUCTIVITY)),
                            2e-4,
                            1,
                            depthM -> exactK(depthM, 0))
                    .faces(Face.convection(COEFFICIENT, GAS_K), Face.INSULATED);
            double told = slab.step(stepS);
            assertThat(told).isGreaterThan(Math.abs(slab.backK() - exactK(THICKNESS_M, stepS)));
            assertThat(told).isGreaterThan(Math.abs(slab.frontK() - exactK(0, stepS)));
            if (!Double.isNaN(beforeK)) {
                assertThat(order(beforeK, told)).isGreaterThan(1.5);
            }
            beforeK = told;
        }
    }
}
