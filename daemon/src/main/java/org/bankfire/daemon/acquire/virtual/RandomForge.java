package org.bankfire.daemon.acquire.virtual;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Believable small propane forges at random: box chambers with sides of 100 to 350 mm in light block, insulating brick,
 * fibre or aerated concrete, fired by one jet of 0.6 to 1.2 mm. Material figures are common practice, no source.
 */
public final class RandomForge {
    /** From one figure to another. */
    private record Span(double low, double high) {
        double draw(SplittableRandom random) {
            return between(random, low, high);
        }
    }

    /** A lining material as it may be bought: kg/m³, J/(kg K), W/(m K) at 0 °C and W/(m K²). */
    private record Kind(Span density, Span heatCapacity, Span conductivity, Span slope) {
        ForgeTraits.Layer layer(SplittableRandom random, double thicknessM) {
            return new ForgeTraits.Layer(
                    thicknessM,
                    density.draw(random),
                    heatCapacity.draw(random),
                    conductivity.draw(random),
                    slope.draw(random));
        }
    }

    private static final Kind LIGHT_BLOCK =
            new Kind(new Span(450, 600), new Span(1_000, 1_100), new Span(0.12, 0.15), new Span(0.7e-4, 1.0e-4));
    private static final Kind BRICK_23 =
            new Kind(new Span(480, 620), new Span(1_000, 1_100), new Span(0.11, 0.16), new Span(0.7e-4, 1.1e-4));
    private static final Kind BRICK_26 =
            new Kind(new Span(750, 860), new Span(1_000, 1_120), new Span(0.20, 0.27), new Span(0.7e-4, 1.1e-4));
    private static final Kind BRICK_28 =
            new Kind(new Span(830, 900), new Span(1_050, 1_120), new Span(0.24, 0.31), new Span(0.7e-4, 1.1e-4));
    /** Blanket under a coat; its conductivity is taken to be linear like the others'. */
    private static final Kind FIBRE =
            new Kind(new Span(130, 190), new Span(1_000, 1_130), new Span(0.05, 0.07), new Span(1.6e-4, 2.2e-4));

    private static final Kind AERATED_CONCRETE =
            new Kind(new Span(450, 600), new Span(950, 1_050), new Span(0.11, 0.15), new Span(1.0e-4, 1.7e-4));

    private static final List<Kind> HOT_SIDE =
            List.of(LIGHT_BLOCK, BRICK_23, BRICK_26, BRICK_28, FIBRE, AERATED_CONCRETE);
    private static final List<Kind> BACKING = List.of(LIGHT_BLOCK, FIBRE, AERATED_CONCRETE);

    /** Hot faces that a forge of use settles at with 1 bar, °C, and the most that block or fibre bears with 1.2 bar. */
    private static final double LEAST_AT_1_BAR_C = 1_100;

    private static final double MOST_AT_1_2_BAR_C = 1_340;
    /** Who heats for longer without a red chamber builds another forge. */
    private static final int QUICK_S = 1_500;

    private static final double QUICK_C = 900;
    /** A few draws in a hundred are a forge at worst; five thousand misses in a row are a fault in the ranges. */
    private static final int MOST_DRAWS = 5_000;

    private RandomForge() {}

    /**
     * A forge; the same seed gives the same forge.
     *
     * @param seed any
     */
    public static ForgeTraits of(long seed) {
        return draw(new SplittableRandom(seed));
    }

    /** The next forge of a stream. */
    public static ForgeTraits draw(SplittableRandom random) {
        // First, lest rich ones, whose throats are often too narrow for the range, be drawn less often.
        double mixture = between(random, 0.85, 1.35);
        for (int i = 0; i < MOST_DRAWS; i++) {
            ForgeTraits forge = any(random, mixture);
            if (isBelievable(forge)) {
                return forge;
            }
        }
        throw new IllegalStateException("no believable forge in " + MOST_DRAWS + " draws");
    }

    private static boolean isBelievable(ForgeTraits forge) {
        double throatM = forge.burner().throatM();
        if (throatM < 14e-3 || throatM > 26e-3) {
            return false;
        }
        ForgeTruth truth = new ForgeTruth(forge);
        return truth.steadyFaceC(100_000) >= LEAST_AT_1_BAR_C
                && truth.steadyFaceC(120_000) <= MOST_AT_1_2_BAR_C
                && isQuick(forge);
    }

    private static boolean isQuick(ForgeTraits traits) {
        VirtualForge forge = new VirtualForge(traits, 0);
        forge.setPressure(100_000);
        forge.openGas();
        forge.light();
        for (int i = 0; i < QUICK_S; i++) {
            forge.step(1);
        }
        return forge.hotFaceC() >= QUICK_C;
    }

    private static ForgeTraits any(SplittableRandom random, double mixture) {
        ForgeTraits.Chamber chamber = new ForgeTraits.Chamber(
                between(random, 0.1, 0.3), between(random, 0.1, 0.25), between(random, 0.15, 0.35));
        double most = Math.min(0.13, Math.min(chamber.widthM(), chamber.heightM()));
        ForgeTraits.Hole front = new ForgeTraits.Hole(between(random, 0.06, most), between(random, 0.06, most));
        ForgeTraits.Hole rear = new ForgeTraits.Hole(
                between(random, 0.04, Math.min(0.08, chamber.widthM())),
                between(random, 0.04, Math.min(0.08, chamber.heightM())));
        return new ForgeTraits(
                chamber,
                lining(random),
                front,
                rear,
                true,
                burner(random, mixture),
                new ForgeTraits.Exchange(
                        between(random, 22, 48),
                        between(random, 5, 9),
                        between(random, 0.7, 0.9),
                        between(random, 0.8, 1.3),
                        between(random, 0.2, 0.6)),
                new ForgeTraits.Frame(
                        between(random, 0.8, 0.95), between(random, 4_000, 8_000), between(random, 60, 400)),
                new ForgeTraits.Probe(between(random, 2, 30), between(random, 0.03, 0.12)),
                between(random, 2e6, 9e6),
                between(random, 5, 30),
                between(random, 93_000, 102_500),
                noise(random));
    }

    private static List<ForgeTraits.Layer> lining(SplittableRandom random) {
        double thicknessM = between(random, 0.05, 0.125);
        List<ForgeTraits.Layer> layers = new ArrayList<>();
        Kind inner = HOT_SIDE.get(random.nextInt(HOT_SIDE.size()));
        if (random.nextInt(5) < 2) {
            double innerM = thicknessM * between(random, 0.35, 0.65);
            layers.add(inner.layer(random, innerM));
            layers.add(BACKING.get(random.nextInt(BACKING.size())).layer(random, thicknessM - innerM));
        } else {
            layers.add(inner.layer(random, thicknessM));
        }
        return layers;
    }

    private static ForgeTraits.Burner burner(SplittableRandom random, double mixture) {
        double jetM = between(random, 0.6e-3, 1.2e-3);
        // Entrained volumes √s (d_throat/d_jet − 1), s the gas's density over that of air, 1.52; stoichiometric 23.8
        // (Prigg's relation in Fulford's design text); burners scatter about it.
        double scatter = between(random, 0.92, 1.08);
        double throatM = jetM * (1 + mixture / scatter * 23.8 / Math.sqrt(1.52));
        return new ForgeTraits.Burner(jetM, between(random, 0.78, 0.92), Math.min(0.08, throatM), mixture);
    }

    private static ForgeTraits.Noise noise(SplittableRandom random) {
        double[] chamberSteps = {0.1, 0.25, 0.25, 1};
        double[] pressureSteps = {50, 100, 250, 500};
        return new ForgeTraits.Noise(
                between(random, 1, 8),
                between(random, 0.1, 1.0),
                chamberSteps[random.nextInt(chamberSteps.length)],
                between(random, 40, 400),
                between(random, 0.0003, 0.002),
                pressureSteps[random.nextInt(pressureSteps.length)],
                between(random, 0.05, 0.3));
    }

    private static double between(SplittableRandom random, double low, double high) {
        return low + (high - low) * random.nextDouble();
    }
}
