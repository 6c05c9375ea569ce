package org.bankfire.daemon.testbed;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.bankfire.daemon.acquire.virtual.ForgeTruth;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.RandomForge;
import org.bankfire.daemon.acquire.virtual.VirtualForge;

/**
 * The record of a burn of a virtual forge at random, with what is true of the forge and what its builder believes: a cold
 * spell, lighting at low pressure, heat-up with some turns of the regulator, perhaps work with stock and plug, an idle hold,
 * gas off, cool-down. Sensors have noise and steps.
 */
public final class RandomBurn {
    /** What a hand did. */
    public enum Hand {
        LIGHT,
        /** Set the regulator; the value is Pa gauge. */
        REGULATOR,
        /** Put a bar in; the value is its diameter in m. */
        STOCK_IN,
        STOCK_OUT,
        PLUG_OUT,
        PLUG_IN,
        GAS_OFF
    }

    /**
     * Something a hand did.
     *
     * @param timeS since the first reading
     * @param hand what
     * @param value see {@link Hand}; 0 where it has none
     */
    public record Act(double timeS, Hand hand, double value) {}

    private static final double[] RATES_HZ = {1, 2, 4, 5, 10};

    private final ForgeTraits traits;
    private final ForgeTruth truth;
    private final ForgeTraits described;
    private final List<Act> acts;
    private final double rateHz;
    private final double barLengthM;
    private final double[] timeS;
    private final double[] chamberC;
    private final double[] gasPa;
    private final double[] ambientC;
    private final double[] shellC;
    private double gasUsedKg;

    private RandomBurn(
            ForgeTraits traits, ForgeTraits described, List<Act> acts, double lengthS, double rateHz, long seed) {
        this.traits = traits;
        this.described = described;
        this.acts = List.copyOf(acts);
        this.rateHz = rateHz;
        truth = new ForgeTruth(traits);
        int count = (int) (lengthS * rateHz);
        timeS = new double[count];
        chamberC = new double[count];
        gasPa = new double[count];
        ambientC = new double[count];
        shellC = new double[count];
        VirtualForge forge = new VirtualForge(traits, seed);
        barLengthM = forge.barLengthM();
        run(forge);
    }

    /** A random burn of the random forge of the same seed. */
    public static RandomBurn of(long seed) {
        return of(RandomForge.of(seed), seed);
    }

    /** A random burn of a forge; the same forge and seed give the same burn. */
    public static RandomBurn of(ForgeTraits traits, long seed) {
        SplittableRandom random = new SplittableRandom(seed ^ 0xB0_21DEL);
        ForgeTraits described = Builder.describe(traits, random.split());
        List<Act> acts = new ArrayList<>();
        double endS = course(random, acts);
        acts.sort(Comparator.comparingDouble(Act::timeS));
        return new RandomBurn(
                traits, described, acts, endS, RATES_HZ[random.nextInt(RATES_HZ.length)], random.nextLong());
    }

    /** Thinks of what hands do; returns the end of the record, s. */
    private static double course(SplittableRandom random, List<Act> acts) {
        double clock = between(random, 10, 60);
        acts.add(new Act(clock, Hand.REGULATOR, between(random, 25e3, 45e3)));
        acts.add(new Act(clock, Hand.LIGHT, 0));
        clock += between(random, 15, 60);
        double heatUpS = between(random, 900, 2_400);
        acts.add(new Act(clock, Hand.REGULATOR, between(random, 60e3, 120e3)));
        int turns = random.nextInt(4);
        for (int i = 0; i < turns; i++) {
            double at = clock + heatUpS * (i + between(random, 0.2, 1)) / turns;
            acts.add(new Act(at, Hand.REGULATOR, between(random, 50e3, 120e3)));
        }
        clock += heatUpS;
        int bars = random.nextInt(3);
        for (int i = 0; i < bars; i++) {
            clock += between(random, 20, 90);
            acts.add(new Act(clock, Hand.STOCK_IN, between(random, 0.010, 0.030)));
            clock += between(random, 120, 300);
            acts.add(new Act(clock, Hand.STOCK_OUT, 0));
        }
        if (random.nextInt(2) == 0) {
            clock += between(random, 20, 90);
            acts.add(new Act(clock, Hand.PLUG_OUT, 0));
            clock += between(random, 90, 400);
            acts.add(new Act(clock, Hand.PLUG_IN, 0));
        }
        clock += between(random, 10, 60);
        acts.add(new Act(clock, Hand.REGULATOR, between(random, 20e3, 45e3)));
        clock += between(random, 300, 1_200);
        acts.add(new Act(clock, Hand.GAS_OFF, 0));
        return clock + between(random, 600, 1_800);
    }

    private void run(VirtualForge forge) {
        int next = 0;
        for (int i = 0; i < timeS.length; i++) {
            double now = i / rateHz;
            while (next < acts.size() && acts.get(next).timeS() <= now) {
                move(forge, acts.get(next));
                next++;
            }
            Observation seen = forge.observe();
            timeS[i] = now;
            chamberC[i] = seen.chamberC();
            gasPa[i] = seen.gasPa();
            ambientC[i] = seen.ambientC();
            shellC[i] = seen.shellC();
            forge.step(1 / rateHz);
        }
        gasUsedKg = forge.gasUsedKg();
    }

    private static void move(VirtualForge forge, Act act) {
        switch (act.hand()) {
            case LIGHT -> {
                forge.openGas();
                forge.light();
            }
            case REGULATOR -> forge.setPressure(act.value());
            case STOCK_IN -> forge.stockIn(act.value());
            case STOCK_OUT -> forge.stockOut();
            case PLUG_OUT -> forge.pullPlug();
            case PLUG_IN -> forge.replacePlug();
            case GAS_OFF -> forge.closeGas();
        }
    }

    /** What the forge really is. */
    public ForgeTraits traits() {
        return traits;
    }

    /** What an analysis should find. */
    public ForgeTruth truth() {
        return truth;
    }

    /** What the builder believes: conductivity, density, heat capacity and openings within 15 %, lag 30 %, jet 3 %. */
    public ForgeTraits described() {
        return described;
    }

    /** The same as the analysis takes it. */
    public ForgeDescription description() {
        return Builder.description(described);
    }

    /** Everything that hands did, in order; the builder notes stock and plug. */
    public List<Act> acts() {
        return acts;
    }

    /** Length of a bar that is in the chamber, m. */
    public double barLengthM() {
        return barLengthM;
    }

    /** Readings a second. */
    public double rateHz() {
        return rateHz;
    }

    /** Number of readings of each channel. */
    public int size() {
        return timeS.length;
    }

    /** Times of the readings since the first, s. */
    public double[] timeS() {
        return timeS.clone();
    }

    public double[] chamberC() {
        return chamberC.clone();
    }

    /** Gauge pressure, Pa. */
    public double[] gasPa() {
        return gasPa.clone();
    }

    public double[] ambientC() {
        return ambientC.clone();
    }

    public double[] shellC() {
        return shellC.clone();
    }

    /** Propane that truly went through the jet, kg. */
    public double gasUsedKg() {
        return gasUsedKg;
    }

    private static double between(SplittableRandom random, double low, double high) {
        return low + (high - low) * random.nextDouble();
    }
}
