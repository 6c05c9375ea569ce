package org.bankfire.dashboard.testing;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.outlook.Doubt;
import org.bankfire.analysis.outlook.IdleAdvice;
import org.bankfire.analysis.outlook.IdleAdvice.Kind;
import org.bankfire.analysis.outlook.Outlook;
import org.bankfire.analysis.outlook.Score;
import org.bankfire.analysis.outlook.Settling;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.quantity.Constants;

/** What lies ahead of an invented burn: at 0.8 bar it goes on to 1,212 °C, and 0.42 bar would hold its target of 1,150 °C. */
public final class ScriptedOutlook {
    private static final double K = Constants.ZERO_CELSIUS_K;
    private static final Band NONE = new Band(Double.NaN, Double.NaN, Double.NaN);

    private ScriptedOutlook() {}

    /** Advice of a kind at 0.8 bar; what the kind has no use for is not a number. */
    public static Outlook of(Kind kind, Doubt... doubts) {
        boolean ahead = kind == Kind.HEATING || kind == Kind.NEVER;
        double advisedPa = switch (kind) {
            case HEATING -> Double.NaN;
            case NEVER -> 1.1e5;
            case LEAVE -> 0.8e5;
            case UP, LIMIT_HIGH -> 0.95e5;
            case DOWN, LIMIT_LOW -> 0.42e5;
        };
        Band toTargetS = ahead ? new Band(420, 380, kind == Kind.NEVER ? Double.POSITIVE_INFINITY : 470) : NONE;
        List<IdleAdvice.HoldPoint> holding = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            double gaugePa = (0.3 + 0.12 * Math.exp(-i / 4.0)) * 1e5;
            holding.add(new IdleAdvice.HoldPoint(
                    900.0 * i, new Band(gaugePa, 0.92 * gaugePa, 1.09 * gaugePa), 0.36 + 0.1 * Math.exp(-i / 4.0)));
        }
        IdleAdvice advice = new IdleAdvice(
                kind,
                1_150 + K,
                advisedPa,
                advisedPa - 0.8e5,
                new Band(38, 21, 55),
                toTargetS,
                new IdleAdvice.Hold(new Band(0.42e5, 0.39e5, 0.46e5), new Band(0.46, 0.44, 0.49), 1.334, 0.274, 0.795),
                new IdleAdvice.Hold(new Band(0.42e5, 0.39e5, 0.46e5), new Band(0.46, 0.44, 0.49), 1.334, 0.274, 0.795),
                new IdleAdvice.Hold(new Band(0.3e5, 0.27e5, 0.34e5), new Band(0.36, 0.33, 0.39), 1.044, 0.374, 1.085),
                new IdleAdvice.Full(0.9e5, 0.734, 2.129),
                new IdleAdvice.Pause(
                        1_200,
                        new Band(0.153, 0.146, 0.163),
                        new Band(0.171, 0.15, 0.2),
                        new Band(840, 730, 990),
                        new Band(-0.018, -0.05, 0.01),
                        -0.052,
                        1_740),
                holding);
        return new Outlook(
                5_160,
                KnownForge.Basis.FITTED,
                1_168 + K,
                0.8e5,
                4_800,
                1.1e5,
                6.2,
                Optional.of(settling()),
                Optional.of(advice),
                List.of(doubts));
    }

    private static Settling settling() {
        List<Settling.Point> curve = new ArrayList<>();
        for (int i = 0; i <= 40; i++) {
            double chamberK = 1_212 + K - 44 * Math.exp(-i / 9.0);
            double half = 3 + 0.3 * i;
            curve.add(new Settling.Point(90.0 * i, new Band(chamberK, chamberK - half, chamberK + half)));
        }
        return new Settling(
                0.8e5,
                1,
                false,
                new Band(1_212 + K, 1_199 + K, 1_224 + K),
                new Band(1_440, 1_080, 2_100),
                new Band(1_247 + K, 1_225 + K, 1_270 + K),
                curve);
    }

    /** An outlook that can say nothing, and why. */
    public static Outlook silent(Doubt doubt) {
        return new Outlook(
                60,
                KnownForge.Basis.DESCRIBED,
                300 + K,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Optional.empty(),
                Optional.empty(),
                List.of(doubt));
    }

    /** Two forecasts that could be compared, one of them beside its band. */
    public static Score score() {
        return new Score(
                2,
                -4,
                9.2,
                0.5,
                List.of(
                        new Score.Compared(
                                1_200,
                                0.6e5,
                                0.9e5,
                                1_500,
                                2_700,
                                new Band(1_141 + K, 1_128 + K, 1_154 + K),
                                1_137 + K),
                        new Score.Compared(
                                2_800,
                                0.9e5,
                                1.1e5,
                                3_100,
                                4_300,
                                new Band(1_180 + K, 1_170 + K, 1_190 + K),
                                1_192 + K)));
    }
}
