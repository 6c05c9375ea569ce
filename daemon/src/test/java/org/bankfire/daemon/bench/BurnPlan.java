package org.bankfire.daemon.bench;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.bankfire.daemon.acquire.virtual.RandomForge;
import org.bankfire.daemon.bench.Act.Deed;
import org.bankfire.daemon.testbed.Builder;

/**
 * A burn of a random forge before it is run: the forge, what its builder says of it, all that befalls it, and how it is
 * read. The same seed gives the same plan.
 *
 * @param seed of everything
 * @param kind what it is for
 * @param traits the forge
 * @param described what its builder believes of it
 * @param startC chamber at the beginning, °C
 * @param contentsKg propane in the cylinder at the beginning
 * @param acts in order
 * @param endS end of the burn, s
 * @param rateHz readings a second
 * @param faults of the sensors and their line
 * @param rating stock that the alarms have to bear
 * @param seenOfShare what the probe sees of bars as a part of their share of the chamber's surface
 */
record BurnPlan(
        long seed,
        Kind kind,
        ForgeTraits traits,
        ForgeTraits described,
        double startC,
        double contentsKg,
        List<Act> acts,
        double endS,
        double rateHz,
        FaultPlan faults,
        Rating rating,
        double seenOfShare) {
    /** What a burn is for. */
    enum Kind {
        OUT_AT_WORK,
        OUT_AT_IDLE,
        OUT_JUST_LIT,
        OUT_OTHERWISE,
        NO_IGNITION,
        QUIET;

        /** As in tables and options. */
        String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }

        boolean losesTheFlame() {
            return switch (this) {
                case OUT_AT_WORK, OUT_AT_IDLE, OUT_JUST_LIT, OUT_OTHERWISE -> true;
                case NO_IGNITION, QUIET -> false;
            };
        }
    }

    /** Of ten seeds in a row. */
    private static final List<Kind> KINDS = List.of(
            Kind.OUT_AT_WORK,
            Kind.OUT_AT_IDLE,
            Kind.OUT_OTHERWISE,
            Kind.QUIET,
            Kind.OUT_JUST_LIT,
            Kind.OUT_AT_WORK,
            Kind.OUT_AT_IDLE,
            Kind.OUT_OTHERWISE,
            Kind.NO_IGNITION,
            Kind.QUIET);

    private static final double[] RATES_HZ = {1, 2, 4, 5, 10};

    BurnPlan {
        acts = List.copyOf(acts);
    }

    /** What the burn of that seed is for. */
    static Kind kindOf(long seed) {
        return KINDS.get((int) Math.floorMod(seed, (long) KINDS.size()));
    }

    /** The plan of that seed with rated stock as usual. */
    static BurnPlan of(long seed) {
        return of(seed, Rating.USUAL);
    }

    /** The plan of that seed. */
    static BurnPlan of(long seed, Rating rating) {
        SplittableRandom random = new SplittableRandom(seed * 0x9E3779B97F4A7C15L + 0xF1A3E);
        Kind kind = kindOf(seed);
        ForgeTraits drawn = RandomForge.draw(random.split());
        double lagS = switch (random.nextInt(3)) {
            case 0 -> between(random, 1, 3);
            case 1 -> between(random, 8, 15);
            default -> between(random, 20, 30);
        };
        ForgeTraits traits = withLag(drawn, lagS);
        ForgeTraits described = Builder.describe(traits, random.split());
        boolean warm = kind != Kind.OUT_JUST_LIT && random.nextInt(5) < 2;
        double startC = warm ? between(random, 150, 1_000) : traits.ambientC();
        Course course = new Course(traits, random.split(), warm, rating);
        double endS = course.draw(kind);
        List<Act> acts = course.acts();
        acts.sort(Comparator.comparingDouble(Act::timeS));
        double contentsKg = random.nextInt(5) == 0 ? between(random, 1.5, 3) : between(random, 3, 11);
        double rateHz = RATES_HZ[random.nextInt(RATES_HZ.length)];
        return new BurnPlan(
                seed,
                kind,
                traits,
                described,
                startC,
                contentsKg,
                acts,
                endS,
                rateHz,
                FaultPlan.draw(random.split()),
                rating,
                between(random, 0, rating.seenShare()));
    }

    /** What the probe sees of bars of a surface, m², as the virtual forge takes it. */
    double seenShare(double surfaceM2) {
        return seenOfShare * surfaceM2 / traits.chamber().surfaceM2();
    }

    /** As much stock as the alarms have to bear in this forge. */
    Oracle.RatedStock ratedStock() {
        double surfaceM2 = rating.surfaceShare() * traits.chamber().surfaceM2();
        return new Oracle.RatedStock(surfaceM2, seenShare(surfaceM2));
    }

    /** The last acts before a moment, for the reader. */
    String before(double timeS) {
        List<String> words = new ArrayList<>();
        for (int i = acts.size() - 1; i >= 0 && words.size() < 4; i--) {
            Act act = acts.get(i);
            if (act.timeS() <= timeS && act.deed() != Deed.FLAME_OUT) {
                words.add(act.words());
            }
        }
        return String.join(", ", words);
    }

    /** Seconds from the last of such deeds to a moment; infinite when there was none. */
    double sinceS(double timeS, Deed deed) {
        double since = Double.POSITIVE_INFINITY;
        for (Act act : acts) {
            if (act.deed() == deed && act.timeS() <= timeS) {
                since = timeS - act.timeS() - (deed == Deed.TURN ? act.extra() : 0);
            }
        }
        return since;
    }

    private static ForgeTraits withLag(ForgeTraits forge, double lagS) {
        return new ForgeTraits(
                forge.chamber(),
                forge.lining(),
                forge.front(),
                forge.rear(),
                forge.rearPlugged(),
                forge.burner(),
                forge.exchange(),
                forge.frame(),
                new ForgeTraits.Probe(lagS, forge.probe().gasShare()),
                forge.droopPaPerKgS(),
                forge.ambientC(),
                forge.airPressurePa(),
                forge.noise());
    }

    static double between(SplittableRandom random, double low, double high) {
        return low + (high - low) * random.nextDouble();
    }
}
