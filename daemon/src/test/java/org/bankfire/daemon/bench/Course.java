package org.bankfire.daemon.bench;

import static org.bankfire.daemon.bench.BurnPlan.between;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.bankfire.daemon.acquire.virtual.ForgeTruth;
import org.bankfire.daemon.bench.Act.Deed;
import org.bankfire.daemon.bench.BurnPlan.Kind;

/**
 * Thinks of what befalls a forge in one burn: lighting, heat-up, spells of work and idling, and over all of it stock, plug,
 * front, draughts and flutter. How often and for how long is common practice, no source.
 */
final class Course {
    /** Of a bar inside the chamber at most. */
    private static final double BAR_M = 0.2;
    /** How long the gas flows at most after the flame is out. */
    static final double LONGEST_OUT_S = 180;

    /** A spell at one pressure. */
    private record Spell(double fromS, double toS, boolean idle) {}

    private final ForgeTraits traits;
    private final SplittableRandom random;
    private final boolean warm;
    private final Rating rating;
    private final List<Act> acts = new ArrayList<>();
    private final List<Spell> spells = new ArrayList<>();
    private double clock;
    private double litS;
    private double hotS;

    Course(ForgeTraits traits, SplittableRandom random, boolean warm, Rating rating) {
        this.traits = traits;
        this.random = random;
        this.warm = warm;
        this.rating = rating;
    }

    List<Act> acts() {
        return acts;
    }

    /** Draws a burn; returns its end, s. */
    double draw(Kind kind) {
        clock = between(random, 15, 40);
        if (kind == Kind.NO_IGNITION) {
            turn(clock, between(random, 25e3, 50e3), 0);
            acts.add(new Act(clock + 0.01, Deed.GAS_ON));
            return clock + LONGEST_OUT_S + 60;
        }
        light();
        heatUp();
        int count = kind == Kind.QUIET ? 4 + random.nextInt(10) : 2 + random.nextInt(5);
        for (int i = 0; i < count; i++) {
            // The first two differ, so that every burn has work and idling.
            spell(i < 2 ? (i == 0) == (kind != Kind.OUT_AT_IDLE) : random.nextInt(5) < 3);
        }
        double endS = clock;
        disturb(endS);
        if (kind.losesTheFlame()) {
            return putOut(kind);
        }
        return shutDown();
    }

    private void light() {
        turn(clock, between(random, 25e3, 50e3), 0);
        clock += 0.01;
        if (random.nextInt(10) == 0) {
            // The first try fails and the user notices.
            acts.add(new Act(clock, Deed.GAS_ON));
            clock += between(random, 2, 8);
            acts.add(new Act(clock, Deed.GAS_OFF));
            clock += between(random, 15, 60);
        }
        acts.add(new Act(clock, Deed.GAS_ON));
        clock += random.nextInt(5) == 0 ? between(random, 2, 5) : between(random, 0, 2);
        acts.add(new Act(clock, Deed.LIGHT));
        litS = clock;
    }

    private void heatUp() {
        clock += between(random, 5, 60);
        turn(clock, between(random, 60e3, 110e3), rampS());
        double heatS = warm ? between(random, 120, 700) : between(random, 700, 2_200);
        int turns = random.nextInt(3);
        for (int i = 0; i < turns; i++) {
            turn(clock + heatS * (i + between(random, 0.3, 0.9)) / turns, between(random, 50e3, 110e3), rampS());
        }
        clock += heatS;
        hotS = clock;
    }

    private void spell(boolean work) {
        double from = clock;
        double ramp = rampS();
        turn(from, work ? between(random, 50e3, 110e3) : between(random, 20e3, 45e3), ramp);
        clock += ramp + (work ? between(random, 90, 500) : between(random, 90, 700));
        spells.add(new Spell(from + ramp, clock, !work));
    }

    private double shutDown() {
        if (random.nextInt(3) == 0) {
            double ramp = between(random, 1, 20);
            turn(clock, 0, ramp);
            clock += ramp + between(random, 2, 10);
        }
        acts.add(new Act(clock, Deed.GAS_OFF));
        return clock + between(random, 60, 240);
    }

    /** Lays what is not the gas over the burn, in any phase of it. */
    private void disturb(double endS) {
        for (double at = litS + untilNextS(200); at < endS; at += untilNextS(260)) {
            stockIn(at);
            at += between(random, 45, 280);
            acts.add(new Act(at, Deed.STOCK_OUT));
        }
        for (double at = litS + untilNextS(500); at < endS; at += untilNextS(900)) {
            acts.add(new Act(at, Deed.PLUG_OUT));
            at += between(random, 10, 300);
            acts.add(new Act(at, Deed.PLUG_IN));
        }
        for (double at = litS + untilNextS(600); at < endS; at += untilNextS(1_000)) {
            acts.add(new Act(at, Deed.FRONT_OPEN, between(random, 1.2, 2.5), 0));
            at += between(random, 3, 90);
            acts.add(new Act(at, Deed.FRONT_SHUT));
        }
        double throughKgS = new ForgeTruth(traits).gasFlowKgPerS(100e3)
                * (1 + 15.6 * traits.burner().mixture());
        for (double at = litS + untilNextS(300); at < endS; at += untilNextS(600)) {
            acts.add(new Act(at, Deed.DRAUGHT, throughKgS * between(random, 0.01, 0.1), 0));
            at += Math.exp(between(random, Math.log(2), Math.log(150)));
            acts.add(new Act(at, Deed.DRAUGHT, 0, 0));
        }
        for (double at = litS + untilNextS(900); at < endS; at += untilNextS(1_500)) {
            acts.add(new Act(at, Deed.FLUTTER, between(random, 1.5, 3), 0));
            at += between(random, 20, 200);
            acts.add(new Act(at, Deed.FLUTTER, 1, 0));
        }
        if (random.nextInt(4) == 0 && endS - hotS > 60) {
            double at = between(random, hotS + 20, endS - 20);
            double back = at + between(random, 1, 6);
            acts.add(new Act(at, Deed.GAS_OFF));
            acts.add(new Act(back, Deed.GAS_ON));
            acts.add(new Act(back + between(random, 0.2, 1.5), Deed.LIGHT));
        }
    }

    /** One bar, some, or as many as rated. */
    private void stockIn(double at) {
        double ratedM2 = rating.surfaceShare() * traits.chamber().surfaceM2();
        double share = switch (random.nextInt(4)) {
            case 0, 1 -> between(random, 0.1, 0.4);
            case 2 -> between(random, 0.4, 1);
            default -> between(random, 0.9, 1);
        };
        double lengthM = Math.min(BAR_M, 0.8 * traits.chamber().depthM());
        double diameterM = between(random, 0.008, 0.04);
        int count = (int) (share * ratedM2 / (Math.PI * diameterM * lengthM));
        if (count < 1) {
            count = 1;
            diameterM = Math.max(0.002, share * ratedM2 / (Math.PI * lengthM));
        }
        acts.add(new Act(at, Deed.STOCK_IN, diameterM, count));
    }

    /** Puts the flame out at a moment of that kind; returns the end of the burn. */
    private double putOut(Kind kind) {
        double out = switch (kind) {
            case OUT_AT_WORK, OUT_AT_IDLE -> inSpell(kind == Kind.OUT_AT_IDLE);
            case OUT_JUST_LIT ->
                litS + between(random, 2, 6 + 2 * traits.probe().lagS());
            default -> otherwise();
        };
        acts.removeIf(act -> act.timeS() > out && act.atTheGas());
        acts.add(new Act(out, Deed.FLAME_OUT));
        return out + LONGEST_OUT_S + 60;
    }

    private double inSpell(boolean idle) {
        List<Spell> fitting =
                spells.stream().filter(spell -> spell.idle() == idle).toList();
        Spell spell = fitting.get(random.nextInt(fitting.size()));
        return between(random, Math.min(spell.fromS() + 20, spell.toS()), spell.toS());
    }

    private double otherwise() {
        List<Act> worth = acts.stream()
                .filter(act -> act.deed() == Deed.TURN || act.deed() == Deed.STOCK_IN || act.deed() == Deed.FRONT_OPEN)
                .filter(act -> act.timeS() > litS + 5)
                .toList();
        if (worth.isEmpty() || random.nextInt(2) == 0) {
            return between(random, litS + 30, hotS);
        }
        return worth.get(random.nextInt(worth.size())).timeS() + between(random, 0.5, 20);
    }

    private void turn(double at, double gaugePa, double rampS) {
        acts.add(new Act(at, Deed.TURN, gaugePa, rampS));
    }

    /** From a flick to a minute, as often short as long. */
    private double rampS() {
        return Math.exp(between(random, Math.log(0.5), Math.log(60)));
    }

    /** Time to the next of what comes at any time, s. */
    private double untilNextS(double meanS) {
        return 3 - meanS * Math.log(1 - random.nextDouble());
    }
}
