package org.bankfire.analysis.outlook;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.burnfit.RecordDrive;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.LatinHypercube;
import org.bankfire.analysis.quantity.Range;

/**
 * The forge as it stands now: the most probable one and its members, walked along the record and reconciled with it.
 *
 * @param best the most probable one
 * @param members as likely as one another
 * @param offsetK what is left between measurement and the most probable one, K: it is added to every chamber temperature
 * @param missK root mean square of the known forge less measurement at the looks before it learnt of them, K
 * @param leftK the same after it, each with the weight of its look, K
 */
record Present(Member best, List<Member> members, double offsetK, double missK, double leftK) {
    /** Each costs as much as the others; the ends of a band of 95 % rest on the outermost two. */
    static final int MOST_MEMBERS = 32;

    /**
     * How far a right model may be from readings, K, found with the virtual forge whose equations are others (see
     * BurnFit): anywhere, now, and per K/s of slope. Now is the least: where the chamber is, is measured.
     */
    private static final Itinerary.Doubts DOUBTS = new Itinerary.Doubts(3.5, 1, 5);

    /**
     * What a forge differs by from one day to another, and what models leave out, standard deviations of logarithms: heat
     * release, mixture, convection, gas emissivity, convection of the probe, draught, openings. Chosen on virtual forges
     * other than those of the truth test.
     */
    private static final double[] TODAY = {0.015, 0.02, 0.08, 0.05, 0.1, 0.2, 0.03};

    /** What is left of the warmth of the hot face at the outer face when a burn begins warm: even between these. */
    private static final Range WARM_OUTSIDE = new Range(0.1, 0.9);

    private static final double LEAST = 1e-6;
    /** Colder than around it by more than this nothing is. */
    private static final double COLDER_K = 20;

    static Present of(KnownForge known, BurnRecord record) {
        return new Walker(known, record).present();
    }

    List<Member> all() {
        List<Member> all = new ArrayList<>(members);
        all.add(0, best);
        return all;
    }

    /** Walks all forges along the record and mixes them. */
    private static final class Walker {
        private final ForgeDescription forge;
        private final RecordDrive drive;
        private final Itinerary way;
        private final List<ForgeParameters> parameters = new ArrayList<>();
        private final double[] outside;
        private final double startK;
        private final ForgeRun[] runs;
        private final double[][] atLooks;
        private int nodes;

        Walker(KnownForge known, BurnRecord record) {
            forge = known.description();
            drive = new RecordDrive(forge);
            way = Itinerary.of(record, DOUBTS);
            startK = drive.startK(record.stretches());
            parameters.add(known.parameters());
            int count = Math.min(MOST_MEMBERS, known.members().size());
            outside = new double[count + 1];
            outside[0] = (WARM_OUTSIDE.low() + WARM_OUTSIDE.high()) / 2;
            double[][] deviations = LatinHypercube.normal(count, TODAY.length + 1);
            for (int m = 0; m < count; m++) {
                parameters.add(today(known.members().get(m), deviations[m]));
                // A normal deviation within ±2, made even.
                outside[m + 1] = WARM_OUTSIDE.nearest(outside[0] + deviations[m][TODAY.length] / 4);
            }
            runs = new ForgeRun[parameters.size()];
            atLooks = new double[way.looks().size()][parameters.size()];
        }

        private static ForgeParameters today(ForgeParameters of, double[] deviations) {
            double[] all = of.inOrder();
            int[] places = {0, 1, 6, 7, 10, 9, 4};
            for (int i = 0; i < places.length; i++) {
                all[places[i]] *= Math.exp(TODAY[i] * deviations[i]);
            }
            return within(all);
        }

        private static ForgeParameters within(double[] all) {
            Range factor = ForgeParameters.FACTOR;
            Range exchange = ForgeParameters.EXCHANGE;
            return new ForgeParameters(
                    factor.nearest(all[0]),
                    ForgeParameters.MIXTURE.nearest(all[1]),
                    factor.nearest(all[2]),
                    factor.nearest(all[3]),
                    ForgeParameters.OPENING.nearest(all[4]),
                    ForgeDescription.PROBE_LAG_S.nearest(all[5]),
                    exchange.nearest(all[6]),
                    exchange.nearest(all[7]),
                    exchange.nearest(all[8]),
                    ForgeParameters.DRAUGHT.nearest(all[9]),
                    exchange.nearest(all[10]));
        }

        Present present() {
            for (int i = 0; i < runs.length; i++) {
                walk(i);
            }
            int members = runs.length - 1;
            List<Itinerary.Look> looks = way.looks();
            double[] misses = new double[looks.size()];
            double[][] spread = new double[looks.size()][];
            double squares = 0;
            for (int k = 0; k < misses.length; k++) {
                Itinerary.Look look = looks.get(k);
                double missK = look.chamberK() - atLooks[k][0];
                squares += missK * missK;
                misses[k] = missK / look.doubtK();
                spread[k] = aboutMean(atLooks[k]);
                for (int m = 0; m < members; m++) {
                    spread[k][m] /= look.doubtK();
                }
            }
            if (members < 2 || misses.length == 0) {
                return unreconciled(misses.length == 0 ? Double.NaN : Math.sqrt(squares / misses.length));
            }
            return mixed(new Reconciling(spread, misses), Math.sqrt(squares / misses.length));
        }

        private Present unreconciled(double missK) {
            List<Member> all = new ArrayList<>();
            for (ForgeRun run : runs) {
                all.add(standing(parameters.get(all.size()), liningK(run), run.chamberK()));
            }
            int last = way.looks().size() - 1;
            double offsetK = last < 0 ? 0 : way.looks().get(last).chamberK() - atLooks[last][0];
            return new Present(all.get(0), all.subList(1, all.size()), offsetK, missK, missK);
        }

        private Present mixed(Reconciling reconciling, double missK) {
            double[][] columns = new double[ForgeParameters.COUNT][];
            for (int p = 0; p < columns.length; p++) {
                columns[p] = logs(p);
                mix(reconciling, columns[p]);
            }
            double[][] kelvin = new double[nodes + 1][runs.length];
            for (int i = 0; i < runs.length; i++) {
                for (int n = 0; n < nodes; n++) {
                    kelvin[n][i] = runs[i].liningK(n);
                }
                kelvin[nodes][i] = runs[i].chamberK();
            }
            for (double[] row : kelvin) {
                mix(reconciling, row);
            }
            List<Member> all = new ArrayList<>();
            for (int i = 0; i < runs.length; i++) {
                double[] own = new double[columns.length];
                for (int p = 0; p < own.length; p++) {
                    own[p] = Math.exp(columns[p][i]);
                }
                double[] lining = new double[nodes];
                for (int n = 0; n < nodes; n++) {
                    lining[n] = kelvin[n][i];
                }
                all.add(standing(within(own), lining, kelvin[nodes][i]));
            }
            double squares = 0;
            double offsetK = 0;
            for (int k = 0; k < atLooks.length; k++) {
                mix(reconciling, atLooks[k]);
                offsetK = way.looks().get(k).chamberK() - atLooks[k][0];
                double left = offsetK * DOUBTS.levelK() / way.looks().get(k).doubtK();
                squares += left * left;
            }
            return new Present(
                    all.get(0), all.subList(1, all.size()), offsetK, missK, Math.sqrt(squares / atLooks.length));
        }

        private double[] logs(int parameter) {
            double[] logs = new double[parameters.size()];
            for (int i = 0; i < logs.length; i++) {
                logs[i] = Math.log(Math.max(LEAST, parameters.get(i).inOrder()[parameter]));
            }
            return logs;
        }

        /** A row of the most probable forge and the members behind it. */
        private static void mix(Reconciling reconciling, double[] row) {
            double[] members = aboutMean(row);
            row[0] = reconciling.apply(row[0], members, members);
            System.arraycopy(members, 0, row, 1, members.length);
        }

        private static double[] aboutMean(double[] row) {
            double mean = 0;
            for (int i = 1; i < row.length; i++) {
                mean += row[i] / (row.length - 1);
            }
            double[] members = new double[row.length - 1];
            for (int m = 0; m < members.length; m++) {
                members[m] = row[m + 1] - mean;
            }
            return members;
        }

        private void walk(int i) {
            ForgeModel model = new ForgeModel(forge, parameters.get(i));
            Stretch first = way.legs().get(0);
            ForgeRun run = start(model, drive.ambientK(first), outside[i]);
            // The run's own time begins with 0, as the record does.
            for (int leg = 0; leg < way.legs().size(); leg++) {
                Stretch stretch = way.legs().get(leg);
                drive.prepare(run, model, stretch);
                run.advanceTo(stretch.endS() - first.startS());
                int look = way.lookAfter().get(leg);
                if (look >= 0) {
                    atLooks[look][i] = run.chamberK();
                }
            }
            runs[i] = run;
            nodes = model.grid().nodes();
        }

        private ForgeRun start(ForgeModel model, double ambientK, double share) {
            if (startK == ambientK) {
                return new ForgeRun(model, ambientK, ambientK);
            }
            double[] lining = new double[model.grid().nodes()];
            for (int n = 0; n < lining.length; n++) {
                double depth = model.grid().depthM(n) / model.grid().thicknessM();
                lining[n] = ambientK + (startK - ambientK) * (1 - depth * (1 - share));
            }
            return new ForgeRun(model, lining, startK, ambientK);
        }

        private double[] liningK(ForgeRun run) {
            double[] lining = new double[nodes];
            for (int n = 0; n < lining.length; n++) {
                lining[n] = run.liningK(n);
            }
            return lining;
        }

        private Member standing(ForgeParameters own, double[] liningK, double chamberK) {
            Stretch last = way.legs().get(way.legs().size() - 1);
            double ambientK = drive.ambientK(last);
            Range possible = new Range(ambientK - COLDER_K, ForgeRun.START_K.high());
            for (int n = 0; n < liningK.length; n++) {
                liningK[n] = possible.nearest(liningK[n]);
            }
            ForgeModel model = new ForgeModel(forge, own);
            ForgeRun run = new ForgeRun(model, liningK, possible.nearest(chamberK), ambientK);
            double stockK = runs[0].stockCentreK();
            if (last.stockIn() && !Double.isNaN(stockK)) {
                run.stockIn(RecordDrive.USUAL_BAR, ForgeRun.START_K.nearest(stockK));
            }
            run.plug(last.plugIn());
            run.fire(drive.firing(model, last));
            return new Member(model, run, forge.ambientK());
        }
    }
}
