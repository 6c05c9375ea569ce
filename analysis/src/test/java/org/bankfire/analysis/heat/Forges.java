package org.bankfire.analysis.heat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Materials;

/** Forges for tests: one of light block as people build it, variations of it, and any number of random ones. */
final class Forges {
    static final double AMBIENT_K = 293.15;
    static final double BAR_PA = 1e5;

    private Forges() {}

    /** Light block, 200 × 160 × 230 mm inside, 76 mm of lining, 0.8 mm jet, 18 mm throat, propane. */
    static ForgeDescription bench() {
        return of(0.8e-3, "insulating-firebrick-23", 0.076);
    }

    static ForgeDescription of(double jetM, String material, double thicknessM) {
        return of(jetM, List.of(layer(material, thicknessM)), 5);
    }

    static ForgeDescription of(double jetM, List<Layer> lining, double lagS) {
        return new ForgeDescription(
                "bench",
                "Bench",
                1473.15,
                AMBIENT_K,
                0,
                new Burner(Fuel.PROPANE, jetM, 18e-3, 0.85, 0.05),
                0.2,
                0.16,
                0.23,
                lagS,
                lining,
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.06, 0.06, true)));
    }

    static Layer layer(String material, double thicknessM) {
        return new Layer(Materials.find(material).orElseThrow(), thicknessM);
    }

    static ForgeModel model(ForgeDescription forge) {
        return new ForgeModel(forge, ForgeParameters.of(forge));
    }

    /** A cold forge on full gas. */
    static ForgeRun lit(ForgeModel model, double gaugePa) {
        ForgeRun run = new ForgeRun(model, AMBIENT_K, AMBIENT_K);
        run.fire(firing(model, gaugePa));
        return run;
    }

    static Firing firing(ForgeModel model, double gaugePa) {
        return new Firing(model.gasKgPerS(gaugePa, AMBIENT_K), gaugePa > 0);
    }

    /** Time until the chamber probe shows a temperature, s, to the second; NaN when it does not within a limit. */
    static double secondsTo(ForgeRun run, double kelvin, double limitS) {
        for (double timeS = run.timeS(); timeS <= limitS; timeS++) {
            run.advanceTo(timeS);
            if (run.chamberK() >= kelvin) {
                return timeS;
            }
        }
        return Double.NaN;
    }

    /** Any forge that somebody might describe, from a soup-tin to a furnace of half a metre. */
    static ForgeModel random(SplittableRandom random) {
        double width = random.nextDouble(0.05, 0.5);
        double height = random.nextDouble(0.05, 0.5);
        double depth = random.nextDouble(0.05, 0.6);
        List<Layer> lining = new ArrayList<>();
        List<String> names = Materials.names();
        for (int i = random.nextInt(1, 7); i > 0; i--) {
            lining.add(layer(names.get(random.nextInt(names.size())), random.nextDouble(0.005, 0.12)));
        }
        List<Opening> openings = new ArrayList<>();
        for (int i = random.nextInt(0, 4); i > 0; i--) {
            openings.add(new Opening(
                    "hole " + i,
                    width * random.nextDouble(0.05, 0.6),
                    height * random.nextDouble(0.05, 0.6),
                    random.nextBoolean()));
        }
        double jetM = random.nextDouble(0.4e-3, 1.6e-3);
        List<Fuel> fuels = Fuel.known();
        Burner burner = new Burner(
                fuels.get(random.nextInt(fuels.size())),
                jetM,
                jetM * random.nextDouble(15, 30),
                random.nextDouble(0.6, 0.95),
                0.05,
                random.nextDouble(0.5, 1),
                BAR_PA);
        ForgeDescription forge = new ForgeDescription(
                "any",
                "Any",
                1473.15,
                AMBIENT_K,
                random.nextDouble(0, 3000),
                burner,
                width,
                height,
                depth,
                random.nextDouble(0, 60),
                lining,
                openings);
        ForgeParameters base = ForgeParameters.of(forge);
        return new ForgeModel(
                forge,
                new ForgeParameters(
                        random.nextDouble(0.7, 1.3),
                        base.mixture(),
                        random.nextDouble(0.7, 1.4),
                        random.nextDouble(0.7, 1.4),
                        random.nextDouble(0, 2),
                        base.probeLagS(),
                        random.nextDouble(0.5, 2),
                        random.nextDouble(0.5, 2),
                        random.nextDouble(0.5, 2),
                        random.nextDouble(0.02, 2),
                        random.nextDouble(0.5, 2)));
    }
}
