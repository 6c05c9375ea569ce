package org.bankfire.analysis.burnfit;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.prediction.Band;
import org.jspecify.annotations.Nullable;

/**
 * Loss coefficients over the burns of one forge, and whether the lining has begun to lose more: a crack, a sagging roof, a
 * worn hot face.
 *
 * <p>Each burn is held against the weighted mean of the burns before it (weights 1/(s² + b²), with s the burn's own
 * standard error and b what burns differ by beyond their errors, after DerSimonian and Laird, <i>Controlled Clinical
 * Trials</i> 7 (1986) 177–188). A handful of burns does not tell b, so their estimate of it is pooled with a usual one. A
 * burn stands out when it differs from that mean by more than the 95 % interval of the difference. One that stands out may
 * be odd, and is then counted among the others after all; two in a row, the losses have changed. All is reckoned in
 * logarithms, for errors of a loss are shares of it.
 *
 * @param burns that the trend rests on: those stated at the latest burn's temperature
 * @param earlier mean of the burns before those that stand out, with its 95 % interval, W/K; NaN without enough of them
 * @param changePerBurn slope of a weighted straight line through all of them, with its 95 % interval, W/K per burn; NaN
 *     for fewer than {@value #FEWEST_EARLIER} burns
 * @param lossUp whether the last two burns or more stand out above the earlier ones
 * @param excess of the latest burn over the earlier mean, share of that; NaN without one
 * @param why in words, with figures
 */
public record LiningTrend(int burns, Band earlier, Band changePerBurn, boolean lossUp, double excess, String why) {
    /** Burns kept in view: what was changed on a forge forty burns ago is how it is now. */
    public static final int MOST_BURNS = 40;
    /** With fewer, their mean is hardly surer than one of them. */
    static final int FEWEST_EARLIER = 5;
    /** Burns in a row that stand out. */
    static final int IN_A_ROW = 2;
    /** No two burns are alike to less than this share. Common practice, no source. */
    private static final double LEAST_SCATTER = 0.01;
    /** Draught, weather and how the plug sits make burns differ by such a share. Common practice, no source. */
    private static final double USUAL_SCATTER = 0.05;
    /** Burns that the usual scatter counts for. */
    private static final int USUAL_WEIGHT = 4;

    /** Two-sided 95 % of the normal distribution. */
    private static final double Z95 = 1.959964;

    private static final Band NOTHING = new Band(Double.NaN, Double.NaN, Double.NaN);

    /** A loss and its standard error, as logarithms. */
    private record Point(double value, double error) {
        static Point of(BurnLoss loss) {
            Band band = loss.wattsPerK();
            return new Point(Math.log(band.value()), Math.log(band.high95() / band.low95()) / (2 * Z95));
        }

        double variance(double scatter) {
            return error * error + scatter * scatter;
        }
    }

    private record Mean(double value, double error, double scatter) {
        Band band() {
            return new Band(Math.exp(value), Math.exp(value - Z95 * error), Math.exp(value + Z95 * error));
        }

        /** −1 below, 1 above, 0 neither. */
        int side(Point point) {
            double difference = point.value() - value;
            double allowed = Z95 * Math.sqrt(point.variance(scatter) + error * error);
            return Math.abs(difference) > allowed ? (int) Math.signum(difference) : 0;
        }
    }

    /**
     * The trend of a forge.
     *
     * @param losses of its burns, in any order; those at another temperature than the latest one's are left out, and of
     *     the others all but the latest {@value #MOST_BURNS}
     */
    public static LiningTrend of(List<BurnLoss> losses) {
        List<BurnLoss> sorted = new ArrayList<>(losses);
        sorted.sort(Comparator.comparing(BurnLoss::start));
        if (sorted.isEmpty()) {
            return new LiningTrend(0, NOTHING, NOTHING, false, Double.NaN, "No burn has told a loss coefficient yet.");
        }
        double atC = sorted.get(sorted.size() - 1).atC();
        sorted.removeIf(loss -> loss.atC() != atC);
        List<BurnLoss> used = sorted.subList(Math.max(0, sorted.size() - MOST_BURNS), sorted.size());
        List<Point> points = used.stream().map(Point::of).toList();
        Walk walk = new Walk();
        points.forEach(walk::take);
        Band latest = used.get(used.size() - 1).wattsPerK();
        Mean mean = walk.before;
        Band change = changePerBurn(points);
        if (mean == null) {
            return new LiningTrend(used.size(), NOTHING, change, false, Double.NaN, tooFew(used.size()));
        }
        double excess = latest.value() / Math.exp(mean.value()) - 1;
        boolean lossUp = walk.side > 0 && walk.inARow >= IN_A_ROW;
        return new LiningTrend(
                used.size(), mean.band(), change, lossUp, excess, why(latest, mean.band(), excess, atC, walk));
    }

    /** Goes through the burns in order of time. */
    private static final class Walk {
        private final List<Point> earlier = new ArrayList<>();
        private final List<Point> standingOut = new ArrayList<>();
        private @Nullable Mean before;
        private int side;
        private int inARow;

        void take(Point point) {
            before = earlier.size() < FEWEST_EARLIER ? null : mean(earlier);
            int now = before == null ? 0 : before.side(point);
            if (now != side) {
                // What stood out before has not lasted, and tells how much burns can differ.
                earlier.addAll(standingOut);
                standingOut.clear();
            }
            (now == 0 ? earlier : standingOut).add(point);
            side = now;
            inARow = standingOut.size();
            if (side < 0 && inARow >= IN_A_ROW) {
                // Changed for the better: from now on this is the forge that later burns are held against.
                earlier.clear();
                earlier.addAll(standingOut);
                standingOut.clear();
                side = 0;
            }
        }
    }

    private static Mean mean(List<Point> points) {
        double weights = 0;
        double squares = 0;
        double sum = 0;
        for (Point point : points) {
            double weight = 1 / point.variance(LEAST_SCATTER);
            weights += weight;
            squares += weight * weight;
            sum += weight * point.value();
        }
        double first = sum / weights;
        double misfit = 0;
        for (Point point : points) {
            double off = point.value() - first;
            misfit += off * off / point.variance(LEAST_SCATTER);
        }
        double more = Math.max(0, (misfit - (points.size() - 1)) / (weights - squares / weights));
        int told = points.size() - 1;
        double scatter =
                Math.sqrt((told * (LEAST_SCATTER * LEAST_SCATTER + more) + USUAL_WEIGHT * USUAL_SCATTER * USUAL_SCATTER)
                        / (told + USUAL_WEIGHT));
        weights = 0;
        sum = 0;
        for (Point point : points) {
            double weight = 1 / point.variance(scatter);
            weights += weight;
            sum += weight * point.value();
        }
        return new Mean(sum / weights, Math.sqrt(1 / weights), scatter);
    }

    private static Band changePerBurn(List<Point> points) {
        if (points.size() < FEWEST_EARLIER) {
            return NOTHING;
        }
        Mean mean = mean(points);
        double weights = 0;
        double x = 0;
        double y = 0;
        for (int i = 0; i < points.size(); i++) {
            double weight = 1 / points.get(i).variance(mean.scatter());
            weights += weight;
            x += weight * i;
            y += weight * points.get(i).value();
        }
        double xx = 0;
        double xy = 0;
        for (int i = 0; i < points.size(); i++) {
            double weight = 1 / points.get(i).variance(mean.scatter());
            xx += weight * (i - x / weights) * (i - x / weights);
            xy += weight * (i - x / weights) * (points.get(i).value() - y / weights);
        }
        double level = Math.exp(y / weights);
        double slope = xy / xx;
        double allowed = Z95 / Math.sqrt(xx);
        return new Band(level * slope, level * (slope - allowed), level * (slope + allowed));
    }

    private static String tooFew(int burns) {
        return String.format(
                Locale.ROOT,
                "%d %s told a loss coefficient: %d earlier ones are needed to hold the next against.",
                burns,
                burns == 1 ? "burn has" : "burns have",
                FEWEST_EARLIER);
    }

    private static String why(Band latest, Band mean, double excess, double atC, Walk walk) {
        String figures = String.format(
                Locale.ROOT,
                "Loss coefficient at %.0f °C %.2f W/K (%.2f to %.2f), %.0f %% %s the %.2f W/K (%.2f to %.2f) of the"
                        + " burns before",
                atC,
                latest.value(),
                latest.low95(),
                latest.high95(),
                100 * Math.abs(excess),
                excess < 0 ? "below" : "above",
                mean.value(),
                mean.low95(),
                mean.high95());
        if (walk.side > 0 && walk.inARow >= IN_A_ROW) {
            return figures + ", in " + walk.inARow
                    + " burns in a row: look for a crack, a sagging roof or a plug that does not seal.";
        }
        if (walk.side != 0) {
            return figures + ", beyond both intervals in this one burn: the next one will tell.";
        }
        return figures + ", within what burns differ by.";
    }
}
