package org.bankfire.daemon.bench;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.monitor.MonitorSettings;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.bench.Act.Deed;
import org.bankfire.daemon.bench.BurnOutcome.FalseAlarm;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.config.ThroatConfig;
import org.bankfire.daemon.ledger.ForgeLane;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.testbed.Builder;
import org.jspecify.annotations.Nullable;

/**
 * Runs one plan: moves the virtual forge, feeds its readings into the pipeline of the daemon in event time, and follows the
 * alarms. A user acknowledges every alarm within half a minute, and closes the gas half a minute after an alarm of the flame
 * or, heedless, three minutes after it went out.
 */
final class BurnRun {
    /** Sees a burn reading by reading. */
    interface Watcher {
        /** A reading has passed; {@code alarms} are the transitions since the one before. */
        void onReading(double timeS, VirtualForge forge, Feed feed, List<AlarmTransition> alarms);
    }

    /** 2026-01-03T12:00:00Z. */
    private static final WallTime BEGIN = WallTime.ofEpochSeconds(1_767_441_600);
    /** Regulator positions in a turn are this far apart, s. */
    private static final double TURN_STEP_S = 0.25;

    /** For the code of an alarm where <em>flame out</em> stood already when the flame went out. */
    static final String STOOD_BEFORE = "stood-before";

    private static final double WINDOW_S = 600;
    /** What the user does about an alarm of the flame, s after it. */
    private static final double REACTION_S = 30;

    private static final double S_PER_H = 3_600;

    private final BurnPlan plan;
    private final VirtualForge forge;
    private final Pipeline pipeline;
    private final ForgeLane lane;
    private final Feed feed;
    private final SplittableRandom random;
    private final @Nullable Watcher watcher;
    private final List<AlarmTransition> fresh = new ArrayList<>();
    private final Deque<Waiting> unanswered = new ArrayDeque<>();
    private final List<FalseAlarm> falseFlameOuts = new ArrayList<>();
    private final List<FalseAlarm> falseNoIgnitions = new ArrayList<>();
    private final Map<String, Integer> annunciations = new TreeMap<>();
    private final Deque<Double> window = new ArrayDeque<>();
    private int worstIn10Min;

    private double now;
    private double turnFromS;
    private double turnFromPa;
    private double turnToS = Double.NEGATIVE_INFINITY;
    private double turnToPa;
    private double litS;
    private double gasOnS = Double.NaN;
    private boolean litSinceGasOn;
    private double outS = Double.NaN;
    private Phase phase = Phase.NONE;
    private double outProbeC = Double.NaN;
    private double outGasPa = Double.NaN;
    private Oracle oracle = Oracle.NONE;
    private double delayS = Double.NaN;
    private String by = "";
    private double noIgnitionS = Double.NaN;
    private double gasLeftOnS = Double.NaN;
    private double shutS = Double.POSITIVE_INFINITY;
    private boolean flameOutStands;

    /** An alarm that the user has not answered yet. */
    private record Waiting(AlarmId alarm, double atS) {}

    private BurnRun(BurnPlan plan, @Nullable Watcher watcher) {
        this.plan = plan;
        this.watcher = watcher;
        forge = new VirtualForge(plan.traits(), plan.seed());
        ForgeConfig config = new ForgeConfig(
                Builder.description(plan.described()), settings(plan.rating()), List.of(), "", ThroatConfig.OPEN);
        pipeline = new Pipeline(List.of(config), new AlarmsOnly(this::hear));
        lane = pipeline.lanes().iterator().next();
        feed = new Feed(config.id(), plan.faults(), plan.rateHz(), BEGIN);
        random = new SplittableRandom(plan.seed() ^ 0x0A11_5EEDL);
    }

    /** Limits of a user whose lining bears what the hottest of these forges reaches: heat is not what is on trial. */
    private static MonitorSettings settings(Rating rating) {
        MonitorSettings usual = MonitorSettings.defaults();
        return new MonitorSettings(
                        usual.targetC(),
                        1_360,
                        1_370,
                        500,
                        usual.gasLimitPa(),
                        usual.gasOnPa(),
                        usual.noDataAfterS(),
                        usual.lightingTimeS(),
                        usual.temperatureDeadbandK(),
                        usual.gasPricePerKg())
                .withRatedStock(rating.surfaceShare());
    }

    /** What the alarms make of a plan. */
    static BurnOutcome of(BurnPlan plan) {
        return new BurnRun(plan, null).run();
    }

    /** The same while somebody watches. */
    static BurnOutcome of(BurnPlan plan, Watcher watcher) {
        return new BurnRun(plan, watcher).run();
    }

    private BurnOutcome run() {
        forge.startAt(plan.startC());
        forge.changeCylinder(plan.contentsKg());
        int next = 0;
        double sampleS = feed.intervalS();
        while (now < plan.endS()) {
            double until = Math.min(sampleS, shutS > now ? shutS : plan.endS());
            if (next < plan.acts().size()) {
                until = Math.min(until, plan.acts().get(next).timeS());
            }
            if (now < turnToS) {
                until = Math.min(until, Math.min(now + TURN_STEP_S, turnToS));
            }
            pass(Math.max(until, now + 1e-6));
            while (next < plan.acts().size() && plan.acts().get(next).timeS() <= now) {
                perform(plan.acts().get(next));
                next++;
            }
            if (now >= shutS) {
                shutS = Double.POSITIVE_INFINITY;
                closeGas();
            }
            if (now >= sampleS) {
                read();
                sampleS = now + feed.intervalS();
            }
        }
        return outcome();
    }

    private void pass(double untilS) {
        boolean lit = forge.isLit();
        forge.step(untilS - now);
        if (lit) {
            litS += untilS - now;
        }
        now = untilS;
        if (turnToS > Double.NEGATIVE_INFINITY) {
            double part = turnToS > turnFromS ? Math.min(1, (now - turnFromS) / (turnToS - turnFromS)) : 1;
            forge.setPressure(turnFromPa + part * (turnToPa - turnFromPa));
            if (part >= 1) {
                turnFromPa = turnToPa;
                turnToS = Double.NEGATIVE_INFINITY;
            }
        }
    }

    private void perform(Act act) {
        switch (act.deed()) {
            case GAS_ON -> openGas();
            case LIGHT -> {
                forge.light();
                litSinceGasOn |= forge.isLit();
            }
            case TURN -> turn(act);
            case STOCK_IN -> stockIn(act.value(), (int) act.extra());
            case STOCK_OUT -> forge.stockOut();
            case PLUG_OUT -> forge.pullPlug();
            case PLUG_IN -> forge.replacePlug();
            case FRONT_OPEN -> forge.openFront(act.value());
            case FRONT_SHUT -> forge.closeFront();
            case DRAUGHT -> forge.blow(act.value());
            case FLUTTER -> forge.flutter(act.value());
            case GAS_OFF -> closeGas();
            case FLAME_OUT -> putOut();
        }
    }

    private void stockIn(double diameterM, int count) {
        double m2 = Math.PI * diameterM * count * forge.barLengthM();
        forge.stockIn(diameterM, count, plan.seenShare(m2));
    }

    private void turn(Act act) {
        // A turn that another one cuts short stays where it has come to.
        turnFromPa = now < turnToS
                ? turnFromPa + (now - turnFromS) / (turnToS - turnFromS) * (turnToPa - turnFromPa)
                : turnFromPa;
        turnFromS = now;
        turnToS = now + act.extra();
        turnToPa = act.value();
        if (act.extra() <= 0) {
            turnFromPa = turnToPa;
            turnToS = Double.NEGATIVE_INFINITY;
            forge.setPressure(turnToPa);
        }
    }

    private void openGas() {
        forge.openGas();
        gasOnS = now;
        litSinceGasOn = false;
        if (plan.kind() == BurnPlan.Kind.NO_IGNITION) {
            shutS = now + Course.LONGEST_OUT_S;
        }
    }

    private void closeGas() {
        forge.closeGas();
        gasOnS = Double.NaN;
    }

    private void putOut() {
        if (!forge.isLit() || !forge.isGasOpen()) {
            return;
        }
        oracle = Oracle.of(forge, plan.ratedStock());
        forge.putOut();
        outS = now;
        outProbeC = forge.probeC();
        outGasPa = forge.pressurePa();
        phase = Phase.of(plan, now, outProbeC, outGasPa, now < turnToS);
        shutS = now + Course.LONGEST_OUT_S;
        if (flameOutStands) {
            // Already called, wrongly: no delay can be told.
            by = STOOD_BEFORE;
        }
    }

    private void read() {
        Pack pack = feed.pack(now, forge.observe());
        if (!pack.readings().isEmpty()) {
            lane.monitor().advance(pack.readings().get(0).receiptTime());
            pipeline.accept(pack);
        } else {
            lane.monitor().advance(wall(now));
        }
        while (!unanswered.isEmpty() && unanswered.peekFirst().atS() <= now) {
            // False where it needs no answer any more; that is nothing to a user.
            boolean ignored =
                    lane.act(AlarmAction.acknowledge(unanswered.removeFirst().alarm(), "the user"), wall(now));
        }
        if (watcher != null) {
            watcher.onReading(now, forge, feed, List.copyOf(fresh));
        }
        fresh.clear();
    }

    private static WallTime wall(double timeS) {
        return BEGIN.plusSeconds(timeS);
    }

    private void hear(AlarmTransition transition) {
        fresh.add(transition);
        AlarmId alarm = transition.alarm();
        if (alarm == AlarmId.FLAME_OUT) {
            flameOutStands =
                    transition.state() == AlarmState.UNACKNOWLEDGED || transition.state() == AlarmState.ACKNOWLEDGED;
        }
        if (transition.state() != AlarmState.UNACKNOWLEDGED) {
            return;
        }
        double atS = transition.time().secondsSince(BEGIN);
        unanswered.addLast(new Waiting(alarm, now + 5 + 25 * random.nextDouble()));
        annunciations.merge(alarm.code(), 1, Integer::sum);
        window.addLast(atS);
        while (window.peekFirst() < atS - WINDOW_S) {
            window.removeFirst();
        }
        worstIn10Min = Math.max(worstIn10Min, window.size());
        switch (alarm) {
            case FLAME_OUT -> flameAlarm(alarm, atS, falseFlameOuts);
            case NO_IGNITION -> flameAlarm(alarm, atS, falseNoIgnitions);
            case GAS_LEFT_ON -> gasLeftOn(atS);
            default -> {}
        }
    }

    private void gasLeftOn(double atS) {
        if (Double.isNaN(gasLeftOnS) && !forge.isLit() && forge.isGasOpen()) {
            gasLeftOnS = atS - (Double.isNaN(outS) ? gasOnS : outS);
        }
    }

    private void flameAlarm(AlarmId alarm, double atS, List<FalseAlarm> falseOnes) {
        boolean unlit = !forge.isLit() && forge.isGasOpen();
        boolean neverLit = unlit && !litSinceGasOn && alarm == AlarmId.NO_IGNITION;
        boolean wentOut = unlit && outS <= atS;
        if (neverLit && Double.isNaN(noIgnitionS)) {
            noIgnitionS = atS - gasOnS;
        } else if (wentOut && by.isEmpty()) {
            delayS = atS - outS;
            by = alarm.code();
        } else if (!neverLit && !wentOut) {
            falseOnes.add(new FalseAlarm(atS, forge.probeC(), forge.pressurePa(), plan.before(atS)));
            return;
        }
        // Every other user is heedless.
        if (shutS < Double.POSITIVE_INFINITY && random.nextBoolean()) {
            shutS = Math.min(shutS, now + REACTION_S);
        }
    }

    private BurnOutcome outcome() {
        return new BurnOutcome(
                plan.seed(),
                plan.kind().code(),
                plan.traits().probe().lagS(),
                plan.described().probe().lagS(),
                plan.rateHz(),
                litS / S_PER_H,
                outS,
                phase.code(),
                outProbeC,
                outGasPa,
                delayS,
                by,
                noIgnitionS,
                gasLeftOnS,
                oracle,
                falseFlameOuts,
                falseNoIgnitions,
                annunciations,
                worstIn10Min,
                Double.isNaN(outS) ? "" : plan.before(outS));
    }

    /** What the forge was about when its flame went out. */
    enum Phase {
        NONE,
        AT_WORK,
        AT_IDLE,
        JUST_LIT,
        OTHERWISE;

        /** The effect of a deed is taken to go on for this long, s: till then the flame goes out {@link #OTHERWISE}. */
        private static final double SINCE_TURN_S = 20;

        private static final double SINCE_STOCK_S = 60;
        private static final double SINCE_HANDS_S = 20;

        String code() {
            return this == NONE ? "" : name().toLowerCase(Locale.ROOT).replace('_', '-');
        }

        static Phase of(BurnPlan plan, double timeS, double probeC, double gasPa, boolean turning) {
            if (probeC < 300) {
                return JUST_LIT;
            }
            boolean disturbed = turning
                    || plan.sinceS(timeS, Deed.TURN) < SINCE_TURN_S
                    || plan.sinceS(timeS, Deed.STOCK_IN) < SINCE_STOCK_S
                    || plan.sinceS(timeS, Deed.LIGHT) < SINCE_STOCK_S
                    || plan.sinceS(timeS, Deed.FRONT_OPEN) < SINCE_HANDS_S
                    || plan.sinceS(timeS, Deed.PLUG_OUT) < SINCE_HANDS_S;
            if (disturbed) {
                return OTHERWISE;
            }
            if (gasPa < 47e3) {
                return AT_IDLE;
            }
            return probeC >= 1_000 && gasPa >= 47e3 ? AT_WORK : OTHERWISE;
        }
    }
}
