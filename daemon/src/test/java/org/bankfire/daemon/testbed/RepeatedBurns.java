package org.bankfire.daemon.testbed;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.trial.TrialBurn;
import org.bankfire.analysis.trial.TrialRecorder;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.bankfire.daemon.acquire.virtual.ForgeTruth;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.RandomForge;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.jspecify.annotations.Nullable;

/**
 * Heat-ups of a virtual forge at random, again and again, before and after a change that truly takes a share of the time to
 * its target away: better convection from the flame, as another jet position makes it, or a lining that takes less heat.
 *
 * <p>No two burns are alike. Seen by the instruments: surroundings by ±6 K, the start (three in ten from a forge that is still
 * 10 to 60 K warm), the hand on the regulator (4 %, lighting at a low pressure for 20 to 60 s, a second touch), noise and steps
 * of the sensors. Seen by nobody: what the jet passes (0.1 %), the mixture (0.2 %), a draught through the shop (up to 0.01 g/s),
 * the transducer's zero (100 Pa). Standard deviations where nothing else is said; common practice, no source.
 */
public final class RepeatedBurns {
    /** What the builder notes and what is so. */
    public enum Label {
        /** The settings as they were. */
        BEFORE,
        /** Other settings, and the change is made. */
        CHANGED,
        /** Other settings, and nothing is changed by them. */
        UNCHANGED
    }

    private static final double KELVIN = 273.15;
    private static final double LIGHTING_PA = 35_000;
    private static final double JET_SCATTER = 0.001;
    private static final double MIXTURE_SCATTER = 0.002;
    private static final double MOST_DRAUGHT_KG_S = 1e-5;
    /** Who forges at a temperature has a burner that could go beyond it. */
    private static final double MOST_OF_STEADY = 0.92;

    private static final double LONGEST_S = 2_700;
    /** Scales that a change is looked for among. */
    private static final double LEAST_SCALE = 0.5;

    private static final double MOST_SCALE = 2.5;

    private final ForgeTraits traits;
    private final ForgeTraits changed;
    private final ForgeDescription description;
    private final double nominalPa;
    private final double targetC;
    private final double trueS;
    private final double changedS;
    private final long seed;

    private RepeatedBurns(long seed, double share) {
        this.seed = seed;
        SplittableRandom random = new SplittableRandom(seed ^ 0x7A1A15L);
        traits = RandomForge.of(seed);
        nominalPa = 70_000 + 40_000 * random.nextDouble();
        targetC = Math.floor(Math.min(
                MOST_OF_STEADY * new ForgeTruth(traits).steadyFaceC(nominalPa),
                reached(traits, 600 + 480 * random.nextDouble())));
        trueS = timeS(traits);
        boolean byFlame = random.nextBoolean();
        changed = share == 0 ? traits : changed(byFlame, share);
        changedS = timeS(changed);
        ForgeDescription told = Builder.description(Builder.describe(traits, random.split()));
        description = new ForgeDescription(
                told.id(),
                told.name(),
                targetC + KELVIN,
                told.ambientK(),
                told.altitudeM(),
                told.burner(),
                told.chamberWidthM(),
                told.chamberHeightM(),
                told.chamberDepthM(),
                told.probeLagS(),
                told.lining(),
                told.openings());
    }

    /**
     * Burns of the random forge of that seed.
     *
     * @param share of the time to target that the change takes away, 0 for none
     */
    public static RepeatedBurns of(long seed, double share) {
        return new RepeatedBurns(seed, share);
    }

    /** What the builder says of the forge. */
    public ForgeDescription description() {
        return description;
    }

    /** Share of the time to target that the change truly takes away, from cold at one pressure and without noise. */
    public double trueShare() {
        return 1 - changedS / trueS;
    }

    /** True time to target before the change, from cold at one pressure, s. */
    public double trueTimeS() {
        return trueS;
    }

    /** The forge with as much of the change as makes the share: by bisection on the virtual forge itself. */
    private ForgeTraits changed(boolean byFlame, double share) {
        double wanted = (1 - share) * trueS;
        double low = byFlame ? 1 : LEAST_SCALE;
        double high = byFlame ? MOST_SCALE : 1;
        if (byFlame && timeS(scaled(traits, true, MOST_SCALE)) > wanted) {
            return changed(false, share);
        }
        for (int i = 0; i < 8; i++) {
            double middle = (low + high) / 2;
            // More convection is quicker, a lining that conducts more is slower.
            boolean quick = timeS(scaled(traits, byFlame, middle)) < wanted;
            if (quick == byFlame) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return scaled(traits, byFlame, (low + high) / 2);
    }

    private static ForgeTraits scaled(ForgeTraits forge, boolean byFlame, double scale) {
        ForgeTraits.Exchange exchange = forge.exchange();
        List<ForgeTraits.Layer> lining = new ArrayList<>();
        for (ForgeTraits.Layer layer : forge.lining()) {
            double factor = byFlame ? 1 : scale;
            lining.add(new ForgeTraits.Layer(
                    layer.thicknessM(),
                    layer.densityKgPerM3(),
                    layer.heatCapacityJPerKgK(),
                    layer.conductivityAtZeroWPerMK() * factor,
                    layer.conductivitySlopeWPerMK2() * factor));
        }
        return with(
                forge,
                lining,
                forge.burner(),
                new ForgeTraits.Exchange(
                        exchange.jetWPerM2K() * (byFlame ? scale : 1),
                        exchange.stillWPerM2K(),
                        exchange.wallEmissivity(),
                        exchange.gasEmissivityFactor(),
                        exchange.draughtDischarge()),
                forge.ambientC());
    }

    private static ForgeTraits with(
            ForgeTraits forge,
            List<ForgeTraits.Layer> lining,
            ForgeTraits.Burner burner,
            ForgeTraits.Exchange exchange,
            double ambientC) {
        return new ForgeTraits(
                forge.chamber(),
                lining,
                forge.front(),
                forge.rear(),
                forge.rearPlugged(),
                burner,
                exchange,
                forge.frame(),
                forge.probe(),
                forge.droopPaPerKgS(),
                ambientC,
                forge.airPressurePa(),
                forge.noise());
    }

    private VirtualForge quiet(ForgeTraits forge) {
        VirtualForge quiet = new VirtualForge(forge, 0);
        quiet.flutter(0);
        quiet.setPressure(nominalPa);
        quiet.openGas();
        quiet.light();
        return quiet;
    }

    private double reached(ForgeTraits forge, double untilS) {
        VirtualForge quiet = quiet(forge);
        for (double now = 0; now < untilS; now++) {
            quiet.step(1);
        }
        return quiet.probeC();
    }

    private double timeS(ForgeTraits forge) {
        VirtualForge quiet = quiet(forge);
        double before = quiet.probeC();
        for (int now = 1; now <= LONGEST_S; now++) {
            quiet.step(1);
            double after = quiet.probeC();
            if (after >= targetC) {
                return now - (after - targetC) / (after - before);
            }
            before = after;
        }
        return LONGEST_S;
    }

    /**
     * One burn as its builder's instruments record it.
     *
     * @param label before or after
     * @param number of the burn, which draws what it differs by
     * @param fit what a fit has told of the forge; null without one
     */
    public TrialBurn burn(Label label, int number, @Nullable KnownForge fit) {
        BurnRecorder readings = new BurnRecorder();
        TrialRecorder recorder = new TrialRecorder();
        WallTime start = WallTime.ofEpochSeconds(1_772_359_200 + 86_400.0 * number);
        String id = "random-" + number;
        recorder.setting(
                0, new Setting("random", start, "setting-jet-position", label == Label.BEFORE ? "4" : "6", "mm"));
        run(label == Label.CHANGED, number, readings, recorder);
        return recorder.burn(id, start, description, readings.record(), fit);
    }

    /** The same burn, as a fit takes it. */
    public BurnRecorder readings(boolean after, int number) {
        BurnRecorder readings = new BurnRecorder();
        run(after, number, readings, new TrialRecorder());
        return readings;
    }

    private void run(boolean after, int number, BurnRecorder readings, TrialRecorder recorder) {
        SplittableRandom random = new SplittableRandom(seed * 1_000_003 + number);
        VirtualForge forge = new VirtualForge(ofToday(after ? changed : traits, random), random.nextLong());
        boolean warm = random.nextDouble() < 0.3;
        double warmC = forge.traits().ambientC() + 10 + 50 * random.nextDouble();
        if (warm) {
            forge.startAt(warmC);
        }
        forge.blow(MOST_DRAUGHT_KG_S * random.nextDouble());
        double zeroPa = 100 * random.nextGaussian();
        double handPa = nominalPa * (1 + 0.04 * random.nextGaussian());
        double upS = 20 + 40 * random.nextDouble();
        double touchS = upS + 400 * random.nextDouble();
        double touchPa = nominalPa * (1 + 0.04 * random.nextGaussian());
        forge.setPressure(LIGHTING_PA);
        forge.openGas();
        forge.light();
        double offS = Double.NaN;
        for (int now = 0; now < LONGEST_S && !(now > offS); now++) {
            Observation seen = forge.observe();
            readings.chamber(now, seen.chamberC() + KELVIN);
            readings.gas(now, seen.gasPa() + zeroPa);
            readings.ambient(now, seen.ambientC() + KELVIN);
            recorder.chamber(now, seen.chamberC() + KELVIN);
            recorder.gas(now, seen.gasPa() + zeroPa);
            if (now >= upS) {
                forge.setPressure(now >= touchS ? touchPa : handPa);
            }
            if (Double.isNaN(offS) && seen.chamberC() > targetC + 10) {
                offS = now + 60;
            }
            forge.step(1);
        }
    }

    private static ForgeTraits ofToday(ForgeTraits forge, SplittableRandom random) {
        ForgeTraits.Burner burner = forge.burner();
        double ambientC = Math.max(-20, Math.min(45, forge.ambientC() + 12 * (random.nextDouble() - 0.5)));
        return with(
                forge,
                forge.lining(),
                new ForgeTraits.Burner(
                        burner.jetM(),
                        Math.min(1, burner.discharge() * (1 + JET_SCATTER * random.nextGaussian())),
                        burner.throatM(),
                        burner.mixture() * (1 + MIXTURE_SCATTER * random.nextGaussian())),
                forge.exchange(),
                ambientC);
    }
}
