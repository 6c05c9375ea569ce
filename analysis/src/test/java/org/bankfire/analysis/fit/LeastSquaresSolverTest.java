package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleSupplier;
import org.junit.jupiter.api.Test;

class LeastSquaresSolverTest {
    private static final FitSettings INDEPENDENT = FitSettings.STANDARD.with(FitSettings.Noise.INDEPENDENT);
    private static final int SAMPLES = 200;

    /** Straight line a + b t over 0 to 1, its noise given. */
    private static FitProblem line(FitParameter a, FitParameter b, DoubleSupplier noise, int samples) {
        double[] measured = new double[samples];
        for (int i = 0; i < samples; i++) {
            measured[i] = 2 + 3 * time(i, samples) + noise.getAsDouble();
        }
        List<FitParameter> parameters = List.of(a, b);
        return new FitProblem(
                parameters, new ForwardDifferences(parameters, samples, ForwardDifferences.ROUNDING, (x, residuals) -> {
                    for (int i = 0; i < samples; i++) {
                        residuals[i] = x[0] + x[1] * time(i, samples) - measured[i];
                    }
                }));
    }

    private static double time(int i, int samples) {
        return i / (samples - 1.0);
    }

    private static FitParameter free(String name) {
        return FitParameter.of(name, "K", 1, 1);
    }

    private static FitResult.Converged converged(FitProblem problem, FitSettings settings) {
        return assertThat(LeastSquaresSolver.solve(problem, settings))
                .asInstanceOf(type(FitResult.Converged.class))
                .actual();
    }

    private static DoubleSupplier white(long seed, double deviation) {
        SplittableRandom random = new SplittableRandom(seed);
        return () -> deviation * random.nextGaussian();
    }

    /** First-order autoregressive noise: τ = (1 + φ) / (1 − φ). */
    private static DoubleSupplier red(long seed, double deviation, double phi) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] state = {deviation * random.nextGaussian()};
        return () -> state[0] = phi * state[0] + Math.sqrt(1 - phi * phi) * deviation * random.nextGaussian();
    }

    /** Share of 400 seeded records whose 95 % interval for the slope holds the true 3. */
    private static double coverage(FitSettings settings, double phi) {
        int held = 0;
        for (int seed = 0; seed < 400; seed++) {
            Estimate slope = converged(line(free("a"), free("b"), red(seed, 0.5, phi), 600), settings)
                    .estimate("b");
            held += slope.low95() <= 3 && 3 <= slope.high95() ? 1 : 0;
        }
        return held / 400.0;
    }

    @Test
    void intervalsHoldTheTruthAsOftenAsTheySayUnderWhiteNoise() {
        assertThat(coverage(FitSettings.STANDARD, 0)).isBetween(0.92, 0.975);
    }

    /** With τ = 19 the raw sample size would hold it in about a third of the records. */
    @Test
    void intervalsHoldTheTruthUnderCorrelatedNoiseOnlyByTheEffectiveSampleSize() {
        assertThat(coverage(FitSettings.STANDARD, 0.9)).isBetween(0.90, 0.98);
        assertThat(coverage(INDEPENDENT, 0.9)).isLessThan(0.5);
    }

    @Test
    void intervalsHoldTheTruthWithHubersLossToo() {
        assertThat(coverage(FitSettings.STANDARD.with(Loss.HUBER), 0)).isBetween(0.92, 0.975);
    }

    /** Spikes of 50 K in a record of 0.1 K noise, one sample in twenty. */
    @Test
    void hubersLossIsNotMovedBySpikes() {
        SplittableRandom random = new SplittableRandom(7);
        DoubleSupplier spiky = () -> random.nextInt(20) == 0 ? 50 : 0.1 * random.nextGaussian();
        FitProblem problem = line(free("a"), free("b"), spiky, SAMPLES);
        assertThat(converged(problem, INDEPENDENT.with(Loss.HUBER)).value("a")).isCloseTo(2, within(0.1));
        assertThat(converged(problem, INDEPENDENT).value("a")).isGreaterThan(2.5);
    }

    /** 95 % efficiency under normal noise is what the constant 1.345 was chosen for (Holland and Welsch 1977). */
    @Test
    void hubersLossLosesAboutFivePercentOfNormalNoise() {
        double squares = 0;
        double huber = 0;
        for (int seed = 0; seed < 600; seed++) {
            FitProblem problem = line(free("a"), free("b"), white(seed, 0.5), 100);
            squares += Math.pow(converged(problem, INDEPENDENT).value("b") - 3, 2);
            huber += Math.pow(converged(problem, INDEPENDENT.with(Loss.HUBER)).value("b") - 3, 2);
        }
        assertThat(squares / huber).isCloseTo(0.95, within(0.03));
    }

    /** Product of precisions: the posterior of a normal prior and an independent normal measurement. */
    @Test
    void aPriorIsWeighedByItsPrecision() {
        FitProblem alone = line(free("a"), free("b"), white(3, 0.5), SAMPLES);
        Estimate data = converged(alone, INDEPENDENT).estimate("a");
        double deviation = data.standardError();
        // The slope is pinned, so that the prior on a acts on a alone.
        FitParameter pinned = free("b").knownAs(new Prior.Normal(3, 1e-6));
        Estimate pinnedData = converged(line(free("a"), pinned, white(3, 0.5), SAMPLES), INDEPENDENT)
                .estimate("a");
        FitParameter known = free("a").knownAs(new Prior.Normal(2.2, pinnedData.standardError()));
        Estimate both = converged(line(known, pinned, white(3, 0.5), SAMPLES), INDEPENDENT)
                .estimate("a");
        assertThat(both.value()).isCloseTo((pinnedData.value() + 2.2) / 2, within(0.05 * deviation));
        assertThat(both.narrowing()).isCloseTo(Math.sqrt(0.5), within(0.01));
        assertThat(data.narrowing()).isNaN();
    }

    /** 400 samples of τ = 19 are worth 21: a prior as narrow as their true error must keep half a say. */
    @Test
    void correlatedResidualsDoNotShoutThePriorDown() {
        double narrowing = 0;
        for (int seed = 0; seed < 50; seed++) {
            FitParameter pinned = free("b").knownAs(new Prior.Normal(3, 1e-6));
            double trueError = 0.5 * Math.sqrt(19 / 400.0);
            FitParameter known = free("a").knownAs(new Prior.Normal(2, trueError));
            narrowing += converged(line(known, pinned, red(seed, 0.5, 0.9), 400), FitSettings.STANDARD)
                            .estimate("a")
                            .narrowing()
                    / 50;
        }
        assertThat(narrowing).isCloseTo(Math.sqrt(0.5), within(0.1));
    }

    @Test
    void aLogNormalPriorAloneIsReproduced() {
        FitParameter positive = free("b").within(Bounds.POSITIVE).knownAs(new Prior.LogNormal(5, 0.1));
        List<FitParameter> parameters = List.of(free("a"), positive);
        ResidualModel blind = new ForwardDifferences(parameters, SAMPLES, 1e-12, (x, residuals) -> {
            for (int i = 0; i < SAMPLES; i++) {
                residuals[i] = x[0] - (i % 2);
            }
        });
        Estimate estimate =
                converged(new FitProblem(parameters, blind), INDEPENDENT).estimate("b");
        assertThat(estimate.value()).isCloseTo(5, within(1e-6));
        assertThat(estimate.standardError()).isCloseTo(0.5, withinPercentage(0.01));
        assertThat(estimate.narrowing()).isCloseTo(1, within(1e-6));
        // The interval is even in the logarithm and never below 0.
        assertThat(estimate.low95() * estimate.high95()).isCloseTo(25, withinPercentage(0.01));
    }

    /** Only the product shows: the valley is along one up, the other down, in equal shares. */
    @Test
    void aValleyIsNamedByItsDirection() {
        List<FitParameter> parameters = List.of(
                FitParameter.of("heatInput", "1", 1.5, 1).within(Bounds.POSITIVE),
                FitParameter.of("loss", "1", 1.5, 1).within(Bounds.POSITIVE),
                FitParameter.of("ambient", "K", 0, 1));
        ResidualModel product = new ForwardDifferences(parameters, 50, 1e-12, (x, residuals) -> {
            for (int i = 0; i < 50; i++) {
                residuals[i] = x[0] / x[1] * i / 50 + x[2] - (1.0 * i / 50 + 0.01 * (i % 3));
            }
        });
        assertThat(LeastSquaresSolver.solve(new FitProblem(parameters, product), INDEPENDENT))
                .asInstanceOf(type(FitResult.IllConditioned.class))
                .satisfies(valley -> {
                    assertThat(valley.direction().terms())
                            .extracting(Combination.Term::name)
                            .containsExactlyInAnyOrder("heatInput", "loss");
                    assertThat(valley.direction().terms().get(1).share()).isCloseTo(1, within(0.02));
                    assertThat(valley.value("heatInput") / valley.value("loss")).isCloseTo(1, within(0.05));
                });
    }

    @Test
    void aPriorOnOneOfThemClosesTheValley() {
        List<FitParameter> parameters = List.of(
                FitParameter.of("heatInput", "1", 1.5, 1)
                        .within(Bounds.POSITIVE)
                        .knownAs(new Prior.LogNormal(2, 0.03)),
                FitParameter.of("loss", "1", 1.5, 1).within(Bounds.POSITIVE));
        ResidualModel product = new ForwardDifferences(parameters, 50, 1e-12, (x, residuals) -> {
            for (int i = 0; i < 50; i++) {
                residuals[i] = x[0] / x[1] * i / 50 - (1.0 * i / 50 + 0.01 * (i % 3 - 1));
            }
        });
        FitResult.Converged fit = converged(new FitProblem(parameters, product), INDEPENDENT);
        assertThat(fit.value("loss")).isCloseTo(2, withinPercentage(1));
        assertThat(fit.estimate("heatInput").narrowing()).isCloseTo(1, within(0.01));
        assertThat(fit.covariance().correlation("heatInput", "loss")).isGreaterThan(0.9);
    }

    @Test
    void aParameterPressedAgainstItsBoundIsSaidToBeThere() {
        FitParameter capped = FitParameter.of("b", "K", 1, 1).within(new Bounds.Between(0, 2));
        Estimate estimate = converged(line(free("a"), capped, white(1, 0.1), SAMPLES), INDEPENDENT)
                .estimate("b");
        assertThat(estimate.atBound()).isTrue();
        assertThat(estimate.value()).isCloseTo(2, within(1e-5));
        assertThat(estimate.standardError()).isNaN();
    }

    @Test
    void whatCannotBeFittedSaysWhy() {
        assertThat(why(line(free("a"), free("b"), white(1, 1), 2))).isEqualTo(FitResult.Why.TOO_FEW_RESIDUALS);
        assertThat(why(line(free("a"), free("b"), () -> Double.NaN, 20))).isEqualTo(FitResult.Why.UNDEFINED_AT_START);
    }

    private static FitResult.Why why(FitProblem problem) {
        return assertThat(LeastSquaresSolver.solve(problem, INDEPENDENT))
                .asInstanceOf(type(FitResult.NotConverged.class))
                .actual()
                .why();
    }

    /** √x is undefined below 0, where a full first step from 9 would go. */
    @Test
    void theSolverStepsBackFromWhereTheModelIsUndefined() {
        List<FitParameter> parameters = List.of(FitParameter.of("x", "1", 9, 1));
        ResidualModel root = new ForwardDifferences(parameters, 2, ForwardDifferences.ROUNDING, (x, residuals) -> {
            residuals[0] = Math.sqrt(x[0]) - 0.1;
            residuals[1] = Math.sqrt(x[0]) - 0.12;
        });
        assertThat(LeastSquaresSolver.solve(new FitProblem(parameters, root), INDEPENDENT)
                        .value("x"))
                .isCloseTo(0.11 * 0.11, within(1e-6));
    }

    /** A simulated model pays for each: no point is evaluated twice, and the covariance takes the last Jacobian. */
    @Test
    void noPointIsEvaluatedTwice() {
        FitProblem line = line(free("a"), free("b"), white(1, 0.5), SAMPLES);
        List<List<Double>> points = new ArrayList<>();
        List<List<Double>> slopes = new ArrayList<>();
        ResidualModel counting = new ResidualModel() {
            @Override
            public int residualCount() {
                return SAMPLES;
            }

            @Override
            public void residuals(double[] parameters, double[] residuals) {
                points.add(List.of(parameters[0], parameters[1]));
                line.model().residuals(parameters, residuals);
            }

            @Override
            public void jacobian(double[] parameters, double[] residuals, double[][] columns) {
                slopes.add(List.of(parameters[0], parameters[1]));
                line.model().jacobian(parameters, residuals, columns);
            }
        };
        LeastSquaresSolver.solve(new FitProblem(line.parameters(), counting), INDEPENDENT);
        assertThat(points).doesNotHaveDuplicates().hasSizeLessThan(6);
        assertThat(slopes).doesNotHaveDuplicates().hasSizeLessThanOrEqualTo(points.size());
    }

    @Test
    void aWrongProblemIsRefusedByName() {
        assertThatThrownBy(() -> FitParameter.of("loss", "W/K", 5, 1).within(new Bounds.Between(0, 4)))
                .hasMessageContaining("loss")
                .hasMessageContaining("5.0 W/K");
        assertThatThrownBy(() -> free("loss").knownAs(new Prior.LogNormal(1, 0.1)))
                .hasMessageContaining("loss");
        assertThatThrownBy(() -> line(free("a"), free("a"), () -> 0, 5)).hasMessageContaining("two parameters");
    }
}
