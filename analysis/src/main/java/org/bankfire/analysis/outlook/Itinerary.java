package org.bankfire.analysis.outlook;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.burnfit.RecordDrive;

/**
 * The way along a record: legs over which gas and hands stay alike, and looks at the measured chamber temperature between
 * them, dense in the last minutes and sparse before.
 *
 * @param legs from the record's begin to its end
 * @param lookAfter for each leg the number of the look at its end; −1 for none
 * @param looks in rising time
 */
record Itinerary(List<Stretch> legs, List<Integer> lookAfter, List<Look> looks) {
    /** A regulator is not turned more often; then neighbours are taken together. Each leg costs each member some steps. */
    private static final int MOST_LEGS = 150;
    /** Enough for twelve hours with the growth below. */
    private static final int MOST_LOOKS = 16;
    /** Within a leg the pressure changes by no more than this share at first. */
    private static final double LEVEL_SHARE = 0.03;

    private static final double LEVEL_PA = 300;
    private static final double LOOSER = 1.6;
    private static final int ROUNDS = 8;
    /** Errors of a model within this of each other are one error (see BurnFit). */
    private static final double APART_S = 100;

    private static final double GROWTH = 1.3;

    /**
     * A measured temperature.
     *
     * @param timeS s since the burn's start
     * @param chamberK K
     * @param doubtK how far a right model may be from it, standard deviation, K
     */
    record Look(double timeS, double chamberK, double doubtK) {}

    /** How right a right model is. */
    record Doubts(double levelK, double nowK, double timeS) {}

    static Itinerary of(BurnRecord record, Doubts doubts) {
        List<Look> looks = looks(record.stretches(), doubts);
        double share = LEVEL_SHARE;
        List<Stretch> legs = legs(record.stretches(), looks, share);
        for (int round = 0; legs.size() > MOST_LEGS && round < ROUNDS; round++) {
            share *= LOOSER;
            legs = legs(record.stretches(), looks, share);
        }
        List<Integer> lookAfter = new ArrayList<>();
        int next = 0;
        for (Stretch leg : legs) {
            boolean here = next < looks.size() && leg.endS() == looks.get(next).timeS();
            lookAfter.add(here ? next++ : -1);
        }
        return new Itinerary(legs, lookAfter, looks);
    }

    private static List<Look> looks(List<Stretch> stretches, Doubts doubts) {
        List<Look> back = new ArrayList<>();
        double beforeS = Double.POSITIVE_INFINITY;
        double apartS = APART_S;
        for (int i = stretches.size() - 1; i >= 0 && back.size() < MOST_LOOKS; i--) {
            Stretch stretch = stretches.get(i);
            double middleS = (stretch.startS() + stretch.endS()) / 2;
            if (stretch.samples() == 0 || middleS > beforeS - apartS) {
                continue;
            }
            double doubtK =
                    Math.hypot(back.isEmpty() ? doubts.nowK() : doubts.levelK(), doubts.timeS() * slope(stretches, i));
            back.add(new Look(middleS, stretch.chamberK(), doubtK / weight(stretches, i)));
            apartS *= back.size() > 1 ? GROWTH : 1;
            beforeS = middleS;
        }
        List<Look> looks = new ArrayList<>();
        for (int i = back.size() - 1; i >= 0; i--) {
            looks.add(back.get(i));
        }
        return looks;
    }

    /** Slope of the measured temperature about a stretch, K/s, above 0. */
    private static double slope(List<Stretch> stretches, int i) {
        Stretch near = stretches.get(Math.max(0, i - 1));
        Stretch far = stretches.get(Math.min(stretches.size() - 1, i + 1));
        double seconds = (far.startS() + far.endS() - near.startS() - near.endS()) / 2;
        double slope = (far.chamberK() - near.chamberK()) / seconds;
        return Double.isFinite(slope) ? Math.abs(slope) : 0;
    }

    private static double weight(List<Stretch> stretches, int i) {
        for (int j = i;
                j >= 0 && stretches.get(i).startS() - stretches.get(j).endS() < RecordDrive.FORGOTTEN_AFTER_S;
                j--) {
            if (stretches.get(j).stockIn()) {
                return RecordDrive.STOCK_WEIGHT;
            }
        }
        return 1;
    }

    private static List<Stretch> legs(List<Stretch> stretches, List<Look> looks, double share) {
        List<Stretch> legs = new ArrayList<>();
        int next = 0;
        int from = 0;
        double fromS = stretches.isEmpty() ? 0 : stretches.get(0).startS();
        for (int i = 0; i < stretches.size(); i++) {
            Stretch stretch = stretches.get(i);
            if (i > from && !alike(stretches.get(from), stretch, share)) {
                legs.add(leg(stretches.subList(from, i), fromS, stretch.startS()));
                from = i;
                fromS = stretch.startS();
            }
            if (next < looks.size() && looks.get(next).timeS() < stretch.endS()) {
                double lookS = looks.get(next).timeS();
                legs.add(leg(stretches.subList(from, i + 1), fromS, lookS));
                from = i;
                fromS = lookS;
                next++;
            }
        }
        if (from < stretches.size()) {
            legs.add(leg(
                    stretches.subList(from, stretches.size()),
                    fromS,
                    stretches.get(stretches.size() - 1).endS()));
        }
        return legs;
    }

    private static boolean alike(Stretch first, Stretch next, double share) {
        boolean sameHands =
                first.lit() == next.lit() && first.plugIn() == next.plugIn() && first.stockIn() == next.stockIn();
        boolean sameGas = Double.isNaN(first.gaugePa())
                ? Double.isNaN(next.gaugePa())
                : Math.abs(next.gaugePa() - first.gaugePa()) <= Math.max(LEVEL_PA, share * Math.abs(first.gaugePa()));
        return sameHands && sameGas;
    }

    /** Means over stretches, of which the first and the last may be cut. */
    private static Stretch leg(List<Stretch> of, double fromS, double toS) {
        double gas = 0;
        double gasS = 0;
        double ambient = 0;
        double ambientS = 0;
        for (Stretch stretch : of) {
            double seconds = Math.min(toS, stretch.endS()) - Math.max(fromS, stretch.startS());
            gas += seconds * stretch.gaugePa();
            gasS += seconds;
            if (!Double.isNaN(stretch.ambientK())) {
                ambient += seconds * stretch.ambientK();
                ambientS += seconds;
            }
        }
        Stretch first = of.get(0);
        return new Stretch(
                fromS,
                toS,
                Double.NaN,
                0,
                gas / gasS,
                ambientS > 0 ? ambient / ambientS : Double.NaN,
                first.lit(),
                first.plugIn(),
                first.stockIn());
    }
}
