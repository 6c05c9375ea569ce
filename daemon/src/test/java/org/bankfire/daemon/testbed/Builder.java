package org.bankfire.daemon.testbed;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;

/** What the builder of a virtual forge says of it: chamber, thicknesses and bores as measured, the rest somewhat wrong. */
public final class Builder {
    private static final double ERROR = 0.15;
    private static final double LAG_ERROR = 0.30;
    private static final double JET_ERROR = 0.03;
    /** Standard uncertainty of a discharge coefficient that is known within {@link #JET_ERROR}, evenly: 0.03 × 0.85/√3. */
    private static final double JET_UNCERTAINTY = 0.015;

    private Builder() {}

    /** The traits with independent even errors; a hole stays within its chamber, a coefficient within its range. */
    public static ForgeTraits describe(ForgeTraits forge, SplittableRandom random) {
        List<ForgeTraits.Layer> lining = new ArrayList<>();
        for (ForgeTraits.Layer layer : forge.lining()) {
            double conductivity = off(random, ERROR);
            lining.add(new ForgeTraits.Layer(
                    layer.thicknessM(),
                    layer.densityKgPerM3() * off(random, ERROR),
                    layer.heatCapacityJPerKgK() * off(random, ERROR),
                    layer.conductivityAtZeroWPerMK() * conductivity,
                    layer.conductivitySlopeWPerMK2() * conductivity));
        }
        ForgeTraits.Burner burner = forge.burner();
        return new ForgeTraits(
                forge.chamber(),
                lining,
                hole(forge.front(), forge.chamber(), random),
                hole(forge.rear(), forge.chamber(), random),
                forge.rearPlugged(),
                new ForgeTraits.Burner(
                        burner.jetM(),
                        Math.min(1, burner.discharge() * off(random, JET_ERROR)),
                        burner.throatM(),
                        burner.mixture()),
                forge.exchange(),
                forge.frame(),
                new ForgeTraits.Probe(
                        forge.probe().lagS() * off(random, LAG_ERROR),
                        forge.probe().gasShare()),
                forge.droopPaPerKgS(),
                forge.ambientC(),
                forge.airPressurePa(),
                forge.noise());
    }

    /** Its area is wrong, its shape right. */
    private static ForgeTraits.Hole hole(ForgeTraits.Hole hole, ForgeTraits.Chamber chamber, SplittableRandom random) {
        double stretch = Math.sqrt(off(random, ERROR));
        return new ForgeTraits.Hole(
                Math.min(chamber.widthM(), hole.widthM() * stretch),
                Math.min(chamber.heightM(), hole.heightM() * stretch));
    }

    private static double off(SplittableRandom random, double part) {
        return 1 + part * (2 * random.nextDouble() - 1);
    }

    /** As the analysis takes it; what the description has no place for is left out. */
    public static ForgeDescription description(ForgeTraits forge) {
        List<Layer> lining = new ArrayList<>();
        for (ForgeTraits.Layer layer : forge.lining()) {
            Material material = new Material(
                    "layer " + (lining.size() + 1),
                    layer.densityKgPerM3(),
                    layer.heatCapacityJPerKgK(),
                    List.of(
                            new ConductivityPoint(273.15, layer.conductivity(0)),
                            new ConductivityPoint(1_673.15, layer.conductivity(1_400))),
                    Double.NaN,
                    "the builder");
            lining.add(new Layer(material, layer.thicknessM()));
        }
        ForgeTraits.Burner burner = forge.burner();
        ForgeTraits.Chamber chamber = forge.chamber();
        return new ForgeDescription(
                "random",
                "random forge",
                1_373.15,
                forge.ambientC() + 273.15,
                altitudeM(forge.airPressurePa()),
                new Burner(Fuel.PROPANE, burner.jetM(), burner.throatM(), burner.discharge(), JET_UNCERTAINTY),
                chamber.widthM(),
                chamber.heightM(),
                chamber.depthM(),
                forge.probe().lagS(),
                lining,
                List.of(
                        new Opening(
                                "front", forge.front().widthM(), forge.front().heightM(), false),
                        new Opening("rear", forge.rear().widthM(), forge.rear().heightM(), forge.rearPlugged())));
    }

    /** Where the standard atmosphere has a pressure, m: the barometric formula backwards. */
    private static double altitudeM(double pascal) {
        return 44_331 * (1 - Math.pow(pascal / 101_325, 0.190263));
    }
}
