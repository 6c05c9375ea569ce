package org.bankfire.analysis.prediction;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.combustion.CarbonMonoxide;
import org.bankfire.analysis.combustion.FlameTemperature;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.heat.Bar;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.Prediction.BarSoak;
import org.bankfire.analysis.prediction.Prediction.Drawn;
import org.bankfire.analysis.prediction.Prediction.Flame;
import org.bankfire.analysis.prediction.Prediction.Idle;
import org.bankfire.analysis.prediction.Prediction.Point;

/**
 * Predicts a forge from its description. The band comes from members whose parameters are drawn from the {@link Prior}s by
 * a {@link LatinHypercube} with a fixed seed: the same question has the same answer. The band covers the doubts that the priors name; a forge that was described wrongly,
 * or built with gaps, lies outside.
 */
public final class Predictor {
    /** Moments of the curve: step up to a time, both in s; from the last on, a minute. */
    private static final double[][] MOMENTS = {{5, 60}, {10, 600}, {30, 3600}};

    private static final double LATER_STEP_S = 60;
    /** A week by the minute is more than a chart can show. */
    private static final int MOST_MOMENTS = 2000;
    /** How far a soaked bar's axis is from the chamber, as a share of the way. */
    private static final double SOAKED = 0.05;

    private static final double S_PER_H = 3600;
    private static final double PARTS_PER_MILLION = 1e-6;

    private final ForgeDescription forge;
    private final PredictionRequest request;
    private final List<Prior> priors;
    private final double[] timesS;
    private final double highestPa = GasProgramme.GAUGE_PA.high();

    private final KnownForge known;

    private Predictor(KnownForge known, PredictionRequest request) {
        this.known = known;
        forge = known.description();
        this.request = request;
        priors = Prior.of(forge);
        timesS = moments(request);
    }

    /** Predicts from the description alone. */
    public static Prediction predict(ForgeDescription forge, PredictionRequest request) {
        return predict(KnownForge.described(forge, request.members()), request);
    }

    /** Predicts from what is known; the band is that of the known forge's members, all of them. */
    public static Prediction predict(KnownForge known, PredictionRequest request) {
        return new Predictor(known, request).predict();
    }

    private Prediction predict() {
        Member[] members = new Member[known.members().size()];
        for (int i = 0; i < members.length; i++) {
            members[i] = new Member(known.members().get(i), false);
        }
        Member described = new Member(known.parameters(), true);
        double[] low = new double[timesS.length];
        double[] high = new double[timesS.length];
        bandOfCurve(members, low, high);
        List<Point> curve = new ArrayList<>(timesS.length);
        for (int i = 0; i < timesS.length; i++) {
            curve.add(described.point(i, low[i], high[i]));
        }
        return new Prediction(
                described.parameters,
                priors,
                members.length,
                curve,
                band(described, members, member -> member.timeToTargetS),
                band(described, members, member -> member.steady.chamberK()),
                band(described, members, member -> member.steady.shellK()),
                described.flame(),
                band(described, members, member -> member.lossWPerK),
                idle(described, members),
                described.barSoak(),
                Arrays.stream(members).map(Member::drawn).toList());
    }

    private interface Figure {
        double of(Member member);
    }

    private static Band band(Member described, Member[] members, Figure figure) {
        return Band.of(
                figure.of(described),
                Arrays.stream(members).mapToDouble(figure::of).toArray());
    }

    private void bandOfCurve(Member[] members, double[] low, double[] high) {
        double[] at = new double[members.length];
        for (int i = 0; i < timesS.length; i++) {
            for (int m = 0; m < members.length; m++) {
                at[m] = members[m].chamberK[i];
            }
            Band band = Band.of(Double.NaN, at);
            low[i] = band.low95();
            high[i] = band.high95();
        }
    }

    private Idle idle(Member described, Member[] members) {
        return new Idle(
                forge.targetK(),
                band(described, members, member -> member.soakedPa),
                band(described, members, member -> member.soakedKgPerS * S_PER_H),
                band(described, members, member -> member.firstPa),
                described.firstKgPerS * S_PER_H);
    }

    private static double[] moments(PredictionRequest request) {
        double stretch = Math.max(1, request.durationS() / (MOST_MOMENTS * LATER_STEP_S));
        List<Double> moments = new ArrayList<>(List.of(0.0));
        double time = 0;
        while (time < request.durationS()) {
            double step = LATER_STEP_S * stretch;
            for (int i = MOMENTS.length - 1; i >= 0; i--) {
                step = time < MOMENTS[i][1] ? MOMENTS[i][0] : step;
            }
            time = Math.min(request.durationS(), time + step);
            moments.add(time);
        }
        if (request.bar() != null && !moments.contains(request.barInS())) {
            moments.add(request.barInS());
        }
        return moments.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    }

    /** One forge with its parameters, run through the programme. */
    private final class Member {
        private final ForgeParameters parameters;
        private final ForgeModel model;
        private final double[] chamberK = new double[timesS.length];
        private final double[] hotFaceK;
        private final double[] shellK;
        private final double[] gasKg;
        private final HeatLedger[] ledgers;
        private final List<Double> barCentreK = new ArrayList<>();
        private final SteadyForge.State steady;
        private final double soakedKgPerS;
        private final double soakedPa;
        private final double lossWPerK;
        private double timeToTargetS = Double.NaN;
        private double firstKgPerS = Double.NaN;
        private double firstPa = Double.NaN;
        private double barSoakS = Double.NaN;

        Member(ForgeParameters parameters, boolean whole) {
            this.parameters = parameters;
            model = new ForgeModel(forge, parameters);
            int kept = whole ? timesS.length : 0;
            hotFaceK = new double[kept];
            shellK = new double[kept];
            gasKg = new double[kept];
            ledgers = new HeatLedger[kept];
            SteadyForge rest = new SteadyForge(model, request.plugIn(), forge.ambientK());
            run(whole);
            double most = model.gasKgPerS(highestPa, forge.ambientK());
            steady = rest.at(firing(request.programme().lastGaugePa()));
            soakedKgPerS = rest.holdingKgPerS(forge.targetK(), most);
            soakedPa = model.gaugePaFor(soakedKgPerS, forge.ambientK(), highestPa);
            lossWPerK = rest.lossWPerK(forge.targetK());
        }

        private Firing firing(double gaugePa) {
            return new Firing(model.gasKgPerS(gaugePa, forge.ambientK()), gaugePa > 0);
        }

        private void run(boolean whole) {
            Course course = new Course(forge, model, request);
            ForgeRun run = course.run();
            Bar bar = request.bar();
            double beforeK = run.chamberK();
            HeatLedger before = run.ledgerJ();
            for (int i = 0; i < timesS.length; i++) {
                double fromS = run.timeS();
                course.advanceTo(timesS[i]);
                chamberK[i] = run.chamberK();
                if (Double.isNaN(timeToTargetS) && chamberK[i] >= forge.targetK()) {
                    double part = (forge.targetK() - beforeK) / (chamberK[i] - beforeK);
                    timeToTargetS = i == 0 ? 0 : fromS + part * (timesS[i] - fromS);
                    double most = model.gasKgPerS(highestPa, forge.ambientK());
                    firstKgPerS = Holding.kgPerS(run, forge.targetK(), most);
                    firstPa = model.gaugePaFor(firstKgPerS, forge.ambientK(), highestPa);
                }
                if (whole) {
                    before = keep(i, run, fromS, before);
                }
                if (bar != null && timesS[i] == request.barInS()) {
                    run.stockIn(bar, forge.ambientK());
                }
                if (whole && bar != null && timesS[i] >= request.barInS()) {
                    followBar(i, run);
                }
                beforeK = chamberK[i];
            }
        }

        private HeatLedger keep(int i, ForgeRun run, double fromS, HeatLedger before) {
            HeatLedger now = run.ledgerJ();
            hotFaceK[i] = run.hotFaceK();
            shellK[i] = run.shellK();
            gasKg[i] = run.gasKg();
            ledgers[i] = now.since(before).over(i == 0 ? 1 : timesS[i] - fromS);
            return now;
        }

        private void followBar(int i, ForgeRun run) {
            barCentreK.add(run.stockCentreK());
            double way = run.hotFaceK() - forge.ambientK();
            if (Double.isNaN(barSoakS) && run.stockCentreK() - forge.ambientK() >= (1 - SOAKED) * way) {
                barSoakS = timesS[i] - request.barInS();
            }
        }

        private Point point(int i, double lowK, double highK) {
            return new Point(
                    timesS[i],
                    request.programme().gaugePaAt(timesS[i]),
                    new Band(chamberK[i], lowK, highK),
                    hotFaceK[i],
                    shellK[i],
                    gasKg[i],
                    ledgers[i]);
        }

        private Flame flame() {
            double gasKgPerS = firing(request.programme().lastGaugePa()).gasKgPerS();
            Fuel fuel = forge.burner().fuel();
            double mixture = parameters.mixture();
            return new Flame(
                    mixture,
                    gasKgPerS * fuel.lowerHeatingValueJPerKg(),
                    gasKgPerS * S_PER_H,
                    FlameTemperature.equilibriumK(fuel, mixture, forge.ambientK(), model.ambientPa()),
                    carbonMonoxide(fuel, mixture));
        }

        /** None where nothing burns. */
        private double carbonMonoxide(Fuel fuel, double mixture) {
            return CarbonMonoxide.CHAMBER_K.contains(steady.gasK())
                    ? CarbonMonoxide.of(fuel, mixture, steady.gasK()).wetPpm() * PARTS_PER_MILLION
                    : 0;
        }

        private Drawn drawn() {
            return new Drawn(
                    timeToTargetS, steady.chamberK(), steady.shellK(), lossWPerK, soakedPa, soakedKgPerS * S_PER_H);
        }

        private Optional<BarSoak> barSoak() {
            Bar bar = request.bar();
            if (bar == null) {
                return Optional.empty();
            }
            double aroundK = chamberK[chamberK.length - 1];
            double biot = bar.biot(aroundK, (aroundK + forge.ambientK()) / 2);
            return Optional.of(new BarSoak(request.barInS(), biot, barSoakS, barCentreK));
        }
    }
}
