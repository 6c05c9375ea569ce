package org.bankfire.analysis.flame;

import java.util.List;
import java.util.Random;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;

/**
 * A forge for tests: gas balance, a wall of finite differences, an opening, a steel bar and a lagging probe with noise.
 * It is stepped at 50 ms and shares nothing with the analysis.
 */
public final class BenchForge {
    private static final double SIGMA = 5.67e-8;
    private static final double AMBIENT = 293;
    private static final double LHV = 46.3e6;
    private static final double STEP_S = 0.05;
    private static final int NODES = 40;

    public final double areaM2;
    public final double conductivity;
    public final double density;
    public final double lagS;
    public final double noiseK;
    public final double flutterK;
    public final double openingM2;
    public final double plugM2;
    private final double burnerKgPerSAtOneBar;
    private final double film;
    private final double emissivity;
    private final double airRatio;
    private final double probeFilm;
    private final Random random;

    private final double[] wall = new double[NODES];
    private final double[] thickness = new double[NODES];
    private double probe = AMBIENT;
    private double flutter;
    private double stockK = AMBIENT;
    private double stockAreaM2;
    private double timeS;
    public double pressurePa;
    public boolean lit;
    public boolean plugOut;
    /** Part of a second's air that blows in from outside, kg/s. */
    public double draughtKgPerS;

    public BenchForge(long seed, double lagS) {
        random = new Random(seed);
        this.lagS = lagS;
        areaM2 = between(0.08, 0.25);
        conductivity = between(0.15, 0.35);
        density = between(400, 900);
        noiseK = between(0.2, 1.5);
        flutterK = between(0, 2.5);
        openingM2 = areaM2 * between(0.03, 0.06);
        plugM2 = areaM2 * between(0.02, 0.03);
        // 90 to 160 kW/m² of inner surface at one bar.
        burnerKgPerSAtOneBar = between(90e3, 160e3) * areaM2 / LHV;
        film = between(25, 50);
        emissivity = between(0.12, 0.25);
        airRatio = between(0.9, 1.15);
        probeFilm = between(60, 140);
        double size = 0.4e-3;
        for (int i = 0; i < NODES; i++) {
            wall[i] = AMBIENT;
            thickness[i] = size;
            size *= 1.09;
        }
    }

    /** What a builder would say of it: a cube of light block with one opening and a plugged one. */
    public ForgeDescription description() {
        double sideM = Math.sqrt(areaM2 / 6);
        Material block = new Material(
                "block",
                density,
                1_000,
                List.of(
                        new Material.ConductivityPoint(293, conductivity),
                        new Material.ConductivityPoint(1_600, conductivity)),
                Double.NaN,
                "the bench");
        double thicknessM = 0;
        for (double cellM : thickness) {
            thicknessM += cellM;
        }
        double unitKgPerS = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 1e-3, 0.85, 1e5, 101_325, AMBIENT);
        double jetM = 1e-3 * Math.sqrt(burnerKgPerSAtOneBar / unitKgPerS);
        // Prigg's relation, backwards.
        double throatM = jetM * (1 + airRatio * 23.8 / Math.sqrt(1.52));
        return new ForgeDescription(
                "bench",
                "bench",
                1_423,
                AMBIENT,
                0,
                new Burner(Fuel.PROPANE, jetM, throatM, 0.85, 0.02),
                sideM,
                sideM,
                sideM,
                lagS,
                List.of(new Layer(block, thicknessM)),
                List.of(
                        new Opening("front", Math.sqrt(openingM2), Math.sqrt(openingM2), false),
                        new Opening("rear", Math.sqrt(plugM2), Math.sqrt(plugM2), true)));
    }

    public double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    /** Mass flow through the jet as the bench has it, kg/s: square root below, straight above one bar. */
    public double flow() {
        double bar = pressurePa / 1e5;
        return bar <= 0 ? 0 : burnerKgPerSAtOneBar * (bar < 1 ? Math.sqrt(bar) : (1 + bar) / 2);
    }

    public void stockIn(double partOfArea) {
        stockAreaM2 = partOfArea * areaM2;
        stockK = AMBIENT;
    }

    public void stockOut() {
        stockAreaM2 = 0;
    }

    public double timeS() {
        return timeS;
    }

    /** True hot-face temperature, °C. */
    public double faceC() {
        return wall[0] - 273;
    }

    /** True probe temperature, °C. */
    public double probeC() {
        return probe - 273;
    }

    /** Steps on for about {@code seconds}. */
    public void run(double seconds) {
        for (int i = 0; i < Math.round(seconds / STEP_S); i++) {
            step();
        }
    }

    /** What the amplifier says now, °C, in quarter kelvins. */
    public double reading() {
        return Math.round((probe - 273 + flutter + noiseK * random.nextGaussian()) * 4) / 4.0;
    }

    private void step() {
        timeS += STEP_S;
        double face = wall[0];
        double fuel = flow();
        // Air of 15.6 kg per kg of propane is drawn whether it burns or not.
        double gasFlow = fuel * (1 + 15.6 * airRatio) + draughtKgPerS;
        double released = lit ? fuel * LHV * Math.min(1, airRatio) * 0.97 : 0;
        double meanK = 0.5 * (face + Math.max(face, AMBIENT));
        double h = film * (lit ? 1 : 0.5) + (lit ? emissivity : 0.02) * 4 * SIGMA * meanK * meanK * meanK;
        double capacity = gasFlow * 1250;
        double gas = (released + capacity * AMBIENT + h * areaM2 * face) / (capacity + h * areaM2 + 1e-9);
        double open = openingM2 + (plugOut ? plugM2 : 0);
        double loss = 0.9 * SIGMA * open / areaM2 * (Math.pow(face, 4) - Math.pow(AMBIENT, 4));
        double toStock = 0;
        if (stockAreaM2 > 0) {
            toStock = (0.33 * SIGMA * (Math.pow(face, 4) - Math.pow(stockK, 4)) + 0.3 * h * (gas - stockK));
            // A bar of 12 mm: 3 mm of steel behind each square metre of its surface.
            stockK += toStock / (0.003 * 7800 * 650) * STEP_S;
            toStock *= stockAreaM2 / areaM2;
        }
        conduct(h * (gas - face) - loss - toStock);
        double radiation = 4 * 0.85 * SIGMA * face * face * face;
        double weight = probeFilm * (lit ? 1 : 0.5) / (probeFilm + radiation);
        // A probe near the wall sees a third of the bars' share.
        double cold = stockAreaM2 / areaM2 / 3;
        double surroundings = Math.pow((1 - cold) * Math.pow(face, 4) + cold * Math.pow(stockK, 4), 0.25);
        double target = weight * gas + (1 - weight) * surroundings;
        probe += (target - probe) * STEP_S / Math.max(lagS, STEP_S);
        // The flame makes it.
        double amplitude = lit ? flutterK : 0.2 * flutterK;
        flutter += -flutter * STEP_S + amplitude * Math.sqrt(2 * STEP_S) * random.nextGaussian();
    }

    private void conduct(double flux) {
        double in = flux;
        for (int i = 0; i < NODES; i++) {
            double out = i + 1 < NODES
                    ? conductivity * (wall[i] - wall[i + 1]) / ((thickness[i] + thickness[i + 1]) / 2)
                    : 10 * (wall[i] - AMBIENT);
            wall[i] += (in - out) * STEP_S / (density * 1000 * thickness[i]);
            in = out;
        }
    }
}
