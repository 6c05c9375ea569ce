package org.bankfire.analysis.prediction;

import java.util.List;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Materials;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** A whole prediction of four hours: curve, steady state, idle, flame. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class PredictorBenchmark {
    private static final double FOUR_HOURS_S = 14_400;

    private final ForgeDescription forge = new ForgeDescription(
            "bench",
            "Bench",
            1423.15,
            293.15,
            0,
            new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.05),
            0.2,
            0.16,
            0.23,
            12,
            List.of(new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076)),
            List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));

    /** With a band of 128 members. */
    @Benchmark
    public Prediction withBand() {
        return Predictor.predict(forge, PredictionRequest.heatUp(GasProgramme.constant(1e5), FOUR_HOURS_S));
    }

    /** The described forge alone. */
    @Benchmark
    public Prediction withoutBand() {
        return Predictor.predict(
                forge, new PredictionRequest(GasProgramme.constant(1e5), FOUR_HOURS_S, true, 0, null, 0));
    }
}
