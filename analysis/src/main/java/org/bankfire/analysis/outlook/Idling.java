package org.bankfire.analysis.outlook;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.outlook.IdleAdvice.Full;
import org.bankfire.analysis.outlook.IdleAdvice.Hold;
import org.bankfire.analysis.outlook.IdleAdvice.HoldPoint;
import org.bankfire.analysis.outlook.IdleAdvice.Kind;
import org.bankfire.analysis.outlook.IdleAdvice.Pause;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.GasProgramme;

/** Works out how the target is held on as little gas as possible. */
final class Idling {
    /**
     * Further below the target than this the forge still heats; nearer, it is brought there by what shall hold it. Some
     * fall this far when they are turned down, because the probe sees the flame too.
     */
    static final double FAR_K = 30;
    /** Turning the regulator by less is within what it can be set and read to. Common practice, no source. */
    private static final double SET_PA = 1000;

    private static final double SET_SHARE = 0.03;
    /** Hotter than the target a chamber comes down by itself: the flame need not be starved of more than this share. */
    private static final double LEAST_OF_SOAKED = 0.6;

    private static final double MOST_PA = GasProgramme.GAUGE_PA.high();
    private static final double S_PER_H = 3600;
    /** Pauses between which the break-even lies, s. */
    private static final double[] PAUSES_S = {120, 300, 600, 1200, 2400, 4800, 9600, 19_200, 43_200};

    private final Ahead ahead;
    private final OutlookSettings settings;
    private final double gaugePa;
    private final double workingPa;
    private final boolean plugIn;
    private final double ambientK;
    private final double targetK;
    private final boolean below;
    private final List<Held> held = new ArrayList<>();

    /** One forge held. */
    private static final class Held {
        private final Member member;
        private final ForgeRun from;
        private final double[] kgPerS;
        private final double soakedKgPerS;

        Held(Member member, ForgeRun from, double[] kgPerS, double soakedKgPerS) {
            this.member = member;
            this.from = from;
            this.kgPerS = kgPerS;
            this.soakedKgPerS = soakedKgPerS;
        }

        double pascal(double flow) {
            return member.model().gaugePaFor(flow, member.gasK(), MOST_PA);
        }
    }

    /** What is done and what surrounds it. */
    record Around(double gaugePa, double workingPa, boolean plugIn, double ambientK) {}

    Idling(Present present, Ahead ahead, OutlookSettings settings, Around around) {
        this.ahead = ahead;
        this.settings = settings;
        gaugePa = around.gaugePa();
        plugIn = around.plugIn();
        ambientK = around.ambientK();
        double high = settings.highestStablePa();
        workingPa = around.workingPa() > high ? high : around.workingPa();
        targetK = settings.targetK() - present.offsetK();
        below = ahead.best().chamberK(0) < settings.targetK() - FAR_K;
        for (Ahead.Trace trace : ahead.traces()) {
            held.add(hold(trace));
        }
    }

    private Held hold(Ahead.Trace trace) {
        Member member = trace.member();
        double most = member.firing(MOST_PA).gasKgPerS();
        double soaked = new SteadyForge(member.model(), plugIn, ambientK).holdingKgPerS(targetK, most);
        boolean never = below && Double.isNaN(trace.toTargetS());
        ForgeRun from = below ? trace.atTarget() : member.run();
        double[] flows = new double[HoldWalk.ENDS_S.length];
        if (never) {
            Arrays.fill(flows, Double.NaN);
        } else {
            double guess = soaked > 0 ? 1.2 * soaked : most / 4;
            flows = HoldWalk.flows(from, targetK, guess, most);
        }
        return new Held(member, from, flows, soaked);
    }

    IdleAdvice advice() {
        Hold now = holding(each -> each.kgPerS[0]);
        Hold soaked = holding(each -> each.soakedKgPerS);
        Band toTargetS = below
                ? Ahead.band(ahead.traces(), Ahead.Trace::toTargetS)
                : new Band(Double.NaN, Double.NaN, Double.NaN);
        Choice choice = choose(now.pressurePa().value(), soaked.pressurePa().value());
        double atPa = Double.isNaN(choice.pascal()) ? gaugePa : choice.pascal();
        return new IdleAdvice(
                choice.kind(),
                settings.targetK(),
                choice.pascal(),
                choice.pascal() - gaugePa,
                above(atPa),
                toTargetS,
                now,
                advised(choice, now),
                soaked,
                full(),
                pause(),
                curve());
    }

    private Band above(double pascal) {
        return Ahead.band(held, each -> ahead.soakedK(each.member, pascal, plugIn, ambientK) - settings.targetK());
    }

    private record Choice(Kind kind, double pascal) {}

    /** What is to be set, now or when the target is reached, never outside of the limits. */
    private Hold advised(Choice choice, Hold now) {
        double pascal =
                choice.kind() == Kind.HEATING ? limitedPa(now.pressurePa().value()) : choice.pascal();
        if (pascal == now.pressurePa().value()) {
            return now;
        }
        Band kgPerHour = Ahead.band(held, each -> each.member.firing(pascal).gasKgPerS() * S_PER_H);
        if (Double.isNaN(pascal)) {
            kgPerHour = new Band(Double.NaN, Double.NaN, Double.NaN);
        }
        double saved = full().kgPerHour() - kgPerHour.value();
        double price = settings.pricePerKg();
        return new Hold(
                new Band(pascal, Double.NaN, Double.NaN), kgPerHour, kgPerHour.value() * price, saved, saved * price);
    }

    private double limitedPa(double pascal) {
        double least = Math.max(pascal, orElse(settings.lowestStablePa(), 0));
        return Math.min(least, orElse(settings.highestStablePa(), Double.POSITIVE_INFINITY));
    }

    private Choice choose(double nowPa, double soakedPa) {
        double low = settings.lowestStablePa();
        double high = settings.highestStablePa();
        if (below) {
            return Double.isNaN(ahead.best().toTargetS()) ? never() : new Choice(Kind.HEATING, Double.NaN);
        }
        if (Double.isNaN(nowPa)) {
            return Double.isNaN(high) ? new Choice(Kind.NEVER, Double.NaN) : new Choice(Kind.LIMIT_HIGH, high);
        }
        double wanted = soakedPa > 0 ? Math.max(nowPa, LEAST_OF_SOAKED * soakedPa) : nowPa;
        if (wanted < low) {
            return soakedPa < low ? new Choice(Kind.LIMIT_LOW, low) : turn(low);
        }
        if (wanted > high) {
            return soakedPa > high ? new Choice(Kind.LIMIT_HIGH, high) : turn(high);
        }
        return turn(wanted);
    }

    private Choice turn(double pascal) {
        double turn = pascal - gaugePa;
        boolean small = Math.abs(turn) <= Math.max(SET_PA, SET_SHARE * gaugePa);
        boolean allowed = !(gaugePa < settings.lowestStablePa()) && !(gaugePa > settings.highestStablePa());
        return small && allowed ? new Choice(Kind.LEAVE, gaugePa) : new Choice(turn < 0 ? Kind.DOWN : Kind.UP, pascal);
    }

    private Choice never() {
        double low = settings.lowestStablePa();
        double pascal = Math.max(workingPa, Double.isNaN(low) ? 0 : low);
        boolean helps =
                pascal > gaugePa && ahead.soakedK(ahead.best().member(), pascal, plugIn, ambientK) > settings.targetK();
        return new Choice(Kind.NEVER, helps ? pascal : Double.NaN);
    }

    private interface Flow {
        double of(Held held);
    }

    private Hold holding(Flow flow) {
        Band pressurePa = Ahead.band(held, each -> each.pascal(flow.of(each)));
        Band kgPerHour = Ahead.band(held, each -> flow.of(each) * S_PER_H);
        double saved = full().kgPerHour() - kgPerHour.value();
        double price = settings.pricePerKg();
        return new Hold(pressurePa, kgPerHour, kgPerHour.value() * price, saved, saved * price);
    }

    private Full full() {
        double kgPerHour = ahead.best().member().firing(workingPa).gasKgPerS() * S_PER_H;
        return new Full(workingPa, kgPerHour, kgPerHour * settings.pricePerKg());
    }

    private List<HoldPoint> curve() {
        List<HoldPoint> points = new ArrayList<>();
        for (int i = 0; i < HoldWalk.ENDS_S.length; i++) {
            int at = i;
            points.add(new HoldPoint(
                    i == 0 ? 0 : HoldWalk.ENDS_S[i - 1],
                    Ahead.band(held, each -> each.pascal(each.kgPerS[at])),
                    held.get(0).kgPerS[at] * S_PER_H));
        }
        return points;
    }

    private record Ways(double idleKg, double relightKg, double relightS) {
        double savedKg() {
            return idleKg - relightKg;
        }
    }

    private Pause pause() {
        double pauseS = settings.pauseS();
        List<Ways> ways = new ArrayList<>();
        for (Held each : held) {
            ways.add(ways(each, pauseS));
        }
        Band savedKg = Ahead.band(ways, Ways::savedKg);
        return new Pause(
                pauseS,
                Ahead.band(ways, Ways::idleKg),
                Ahead.band(ways, Ways::relightKg),
                Ahead.band(ways, Ways::relightS),
                savedKg,
                savedKg.value() * settings.pricePerKg(),
                breakEvenS());
    }

    private Ways ways(Held each, double pauseS) {
        Firing working = each.member.firing(workingPa);
        // One that never gets to the target has nothing to go back to.
        double relightS =
                Double.isNaN(each.kgPerS[0]) ? Double.NaN : PauseWalk.relightS(each.from, pauseS, working, targetK);
        // While it is lit and heats back, idling would have gone on: both ways end when the pause does.
        return new Ways(idleKg(each, pauseS), relightS * working.gasKgPerS(), relightS);
    }

    private double idleKg(Held each, double pauseS) {
        double sum = 0;
        double fromS = 0;
        for (int i = 0; i <= each.kgPerS.length && fromS < pauseS; i++) {
            boolean last = i == each.kgPerS.length;
            double toS = last ? pauseS : Math.min(pauseS, HoldWalk.ENDS_S[i]);
            sum += (toS - fromS) * limited(each, last ? each.soakedKgPerS : each.kgPerS[i]);
            fromS = toS;
        }
        return sum;
    }

    private double limited(Held each, double flow) {
        double least = each.member.firing(orElse(settings.lowestStablePa(), 0)).gasKgPerS();
        double most =
                each.member.firing(orElse(settings.highestStablePa(), MOST_PA)).gasKgPerS();
        return Math.min(most, Math.max(least, flow));
    }

    private static double orElse(double value, double other) {
        return Double.isNaN(value) ? other : value;
    }

    /** The shortest pause beyond which turning off takes less gas, by the most probable forge. */
    private double breakEvenS() {
        Held best = held.get(0);
        double beyondS = Double.POSITIVE_INFINITY;
        double laterS = Double.NaN;
        double laterKg = Double.NaN;
        for (int i = PAUSES_S.length - 1; i >= 0; i--) {
            double savedKg = ways(best, PAUSES_S[i]).savedKg();
            if (Double.isNaN(savedKg)) {
                return Double.NaN;
            }
            if (savedKg <= 0) {
                return Double.isNaN(laterS)
                        ? beyondS
                        : PAUSES_S[i] + (laterS - PAUSES_S[i]) * -savedKg / (laterKg - savedKg);
            }
            laterS = PAUSES_S[i];
            laterKg = savedKg;
        }
        return 0;
    }
}
