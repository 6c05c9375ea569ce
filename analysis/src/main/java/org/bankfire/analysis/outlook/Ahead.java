package org.bankfire.analysis.outlook;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.Band;

/** All forges of the present gone ahead at one pressure. */
final class Ahead {
    /** Four hours: nobody idles for longer, and what is not steady by then is not steady at all. */
    static final double HORIZON_S = 4 * 3600;
    /** The steady band is judged over so long: shorter changes drown in the flicker of any flame. */
    static final double STEADY_OVER_S = 300;

    private static final int POINTS = Settling.MOST_POINTS;
    private static final double FIRST_S = 15;
    private static final double[] TIMES_S = times();

    private final Present present;
    private final double gaugePa;
    private final double targetK;
    private final List<Trace> traces = new ArrayList<>();

    /** One forge ahead. */
    static final class Trace {
        private final Member member;
        private final double[] chamberK;
        private final double toTargetS;
        private final ForgeRun atTarget;

        Trace(Member member, double[] chamberK, double toTargetS, ForgeRun atTarget) {
            this.member = member;
            this.chamberK = chamberK;
            this.toTargetS = toTargetS;
            this.atTarget = atTarget;
        }

        Member member() {
            return member;
        }

        /** At one of the times, with what the present is off by, K. */
        double chamberK(int at) {
            return chamberK[at];
        }

        /** When it reaches the target from below, s; NaN when it does not, 0 when it is there. */
        double toTargetS() {
            return toTargetS;
        }

        /** The forge then; the present one when it does not reach it. */
        ForgeRun atTarget() {
            return atTarget;
        }
    }

    Ahead(Present present, double gaugePa, double targetK) {
        this.present = present;
        this.gaugePa = gaugePa;
        this.targetK = targetK;
        for (Member member : present.all()) {
            traces.add(trace(member));
        }
    }

    /** Growing evenly from the first step to the horizon. */
    private static double[] times() {
        double growth = 1.05;
        for (int n = 0; n < 50; n++) {
            // The last time of a geometric row, solved for its growth.
            growth = Math.pow(1 + HORIZON_S / FIRST_S * (growth - 1), 1.0 / (POINTS - 1));
        }
        double[] times = new double[POINTS];
        for (int i = 0; i < POINTS; i++) {
            times[i] = FIRST_S * (Math.pow(growth, i) - 1) / (growth - 1);
        }
        return times;
    }

    private Trace trace(Member member) {
        ForgeRun run = new ForgeRun(member.run());
        run.fire(member.firing(gaugePa));
        double[] chamberK = new double[POINTS];
        double toTargetS = Double.NaN;
        ForgeRun atTarget = member.run();
        for (int i = 0; i < POINTS; i++) {
            ForgeRun before = new ForgeRun(run);
            run.advanceTo(TIMES_S[i]);
            chamberK[i] = run.chamberK() + present.offsetK();
            if (Double.isNaN(toTargetS) && chamberK[i] >= targetK) {
                double part = i == 0 ? 0 : (targetK - chamberK[i - 1]) / (chamberK[i] - chamberK[i - 1]);
                toTargetS = i == 0 ? 0 : TIMES_S[i - 1] + part * (TIMES_S[i] - TIMES_S[i - 1]);
                before.advanceTo(toTargetS);
                atTarget = before;
            }
        }
        return new Trace(member, chamberK, toTargetS, atTarget);
    }

    List<Trace> traces() {
        return traces;
    }

    /** The most probable forge ahead. */
    Trace best() {
        return traces.get(0);
    }

    /** A figure of each forge, as a band. */
    static <T> Band band(List<T> all, ToDoubleFunction<T> figure) {
        double[] members = new double[all.size() - 1];
        for (int m = 0; m < members.length; m++) {
            members[m] = figure.applyAsDouble(all.get(m + 1));
        }
        return Band.of(figure.applyAsDouble(all.get(0)), members);
    }

    Settling settling(double steadyKPerMin, boolean plugIn, double ambientK) {
        double[] steadyS = new double[traces.size()];
        List<Settling.Point> curve = new ArrayList<>(POINTS);
        for (int i = 0; i < POINTS; i++) {
            int at = i;
            curve.add(new Settling.Point(TIMES_S[i], band(traces, trace -> trace.chamberK(at))));
        }
        List<double[]> steady = new ArrayList<>();
        for (int m = 0; m < steadyS.length; m++) {
            double[] chamberK = traces.get(m).chamberK;
            double untilS = steadyS(chamberK, steadyKPerMin);
            // One that is not steady within the curve is on its way somewhere: its last point is the nearest to it.
            double kelvin = at(chamberK, Double.isNaN(untilS) ? HORIZON_S : untilS);
            steady.add(new double[] {untilS, kelvin});
        }
        double untilS = steady.get(0)[0];
        Band steadyK = band(steady, each -> each[1]);
        return new Settling(
                gaugePa,
                steadyKPerMin,
                untilS == 0,
                Double.isNaN(untilS) ? new Band(Double.NaN, steadyK.low95(), steadyK.high95()) : steadyK,
                band(steady, each -> each[0]),
                band(traces, trace -> soakedK(trace.member(), gaugePa, plugIn, ambientK)),
                curve);
    }

    /** Where a forge ends at a pressure, K. */
    double soakedK(Member member, double pascal, boolean plugIn, double ambientK) {
        return new SteadyForge(member.model(), plugIn, ambientK)
                        .at(member.firing(pascal))
                        .chamberK()
                + present.offsetK();
    }

    /** The first time after which no five minutes change it by more than the band; NaN when there is none. */
    private static double steadyS(double[] chamberK, double steadyKPerMin) {
        double allowedK = steadyKPerMin * STEADY_OVER_S / 60;
        double laterS = Double.NaN;
        double laterK = 0;
        for (int i = POINTS - 1; i >= 0; i--) {
            if (TIMES_S[i] + STEADY_OVER_S > HORIZON_S) {
                continue;
            }
            double changeK = Math.abs(at(chamberK, TIMES_S[i] + STEADY_OVER_S) - chamberK[i]);
            if (changeK > allowedK) {
                return laterS + (TIMES_S[i] - laterS) * (allowedK - laterK) / (changeK - laterK);
            }
            laterS = TIMES_S[i];
            laterK = changeK;
        }
        return 0;
    }

    /** Straight between the times. */
    static double at(double[] chamberK, double timeS) {
        int next = 1;
        while (next < POINTS - 1 && TIMES_S[next] < timeS) {
            next++;
        }
        double part = (timeS - TIMES_S[next - 1]) / (TIMES_S[next] - TIMES_S[next - 1]);
        return chamberK[next - 1] + Math.min(1, part) * (chamberK[next] - chamberK[next - 1]);
    }
}
