package org.bankfire.analysis.outlook;

import java.util.List;
import org.bankfire.analysis.prediction.Band;

/**
 * How to hold the target on as little gas as possible. The advised pressure never lies outside the limits of stable burning
 * that the user has marked.
 *
 * @param kind what to do, for the sentence
 * @param targetK temperature to hold, K
 * @param advisedPa set the regulator to this, Pa gauge; NaN when there is nothing to set, see {@link Kind}
 * @param turnPa from the present pressure to the advised one, Pa: above 0 is up; NaN likewise
 * @param aboveTargetK how far the soaked chamber ends above the target at the advised pressure, K, below 0 for below it; of
 *     use where a limit stands in the way
 * @param toTargetS at the present pressure until the target, s, with {@link Kind#HEATING} and {@link Kind#NEVER}; else NaN.
 *     The high end is infinite when some forges do not get there
 * @param now what holds the target for the next minutes; while heating, for the minutes after it is reached
 * @param advised what is to be set, within the limits of stable burning, and what it takes: now, or with {@link Kind#HEATING}
 *     when the target is reached; NaN when there is nothing to set
 * @param soaked what holds it when the lining takes no more heat
 * @param full the burn's working pressure and what it takes
 * @param pause idling against turning off and lighting again
 * @param curve what holds the target from now on, or from the target on, as the lining soaks; at most
 *     {@value #MOST_POINTS} points
 */
public record IdleAdvice(
        Kind kind,
        double targetK,
        double advisedPa,
        double turnPa,
        Band aboveTargetK,
        Band toTargetS,
        Hold now,
        Hold advised,
        Hold soaked,
        Full full,
        Pause pause,
        List<HoldPoint> curve) {
    /** More points than these a holding curve does not need. */
    public static final int MOST_POINTS = 16;

    public IdleAdvice {
        curve = List.copyOf(curve);
    }

    /** What to do. */
    public enum Kind {
        /** Below the target: go on heating; when it is reached, turn to {@code now}. The advised pressure is NaN. */
        HEATING("heating"),
        /** Below the target, and the present pressure never gets there; {@code advisedPa} does, if it is not NaN. */
        NEVER("never"),
        /** Turn down. */
        DOWN("down"),
        /** Turn up. */
        UP("up"),
        /** The present pressure is as good as can be set. */
        LEAVE("leave"),
        /** The lowest stable pressure is advised, and the chamber stays above the target: a smaller jet, or less often lit. */
        LIMIT_LOW("limit-low"),
        /** The highest stable pressure is advised, and it does not hold the target. */
        LIMIT_HIGH("limit-high");

        private final String code;

        Kind(String code) {
            this.code = code;
        }

        /** As scripts know it. */
        public String code() {
            return code;
        }
    }

    /**
     * A pressure that holds the target, limits of stable burning not regarded.
     *
     * @param pressurePa Pa gauge; NaN when 4 bar would not hold it; 0 when it stays above without gas
     * @param kgPerHour gas
     * @param costPerHour in the user's currency; NaN without a price
     * @param savedKgPerHour against full burn; below 0 when more is needed
     * @param savedPerHour the same in the user's currency; NaN without a price
     */
    public record Hold(
            Band pressurePa, Band kgPerHour, double costPerHour, double savedKgPerHour, double savedPerHour) {}

    /**
     * Full burn.
     *
     * @param pressurePa Pa gauge
     * @param kgPerHour gas
     * @param costPerHour in the user's currency; NaN without a price
     */
    public record Full(double pressurePa, double kgPerHour, double costPerHour) {}

    /**
     * Two ways through a pause, both beginning at the target and ending there.
     *
     * @param pauseS its length, s
     * @param idleKg gas for idling through it, within the limits of stable burning, kg
     * @param relightKg gas for lighting again at working pressure after it and heating to the target, kg; value NaN when that does not get
     *     there
     * @param relightS waiting for that, s
     * @param savedKg by turning off, kg, below 0 when idling takes less
     * @param saved the same in the user's currency; NaN without a price
     * @param breakEvenS pause above which turning off takes less, s; 0 when it always does, infinite when not within 12 h,
     *     NaN when unknown
     */
    public record Pause(
            double pauseS, Band idleKg, Band relightKg, Band relightS, Band savedKg, double saved, double breakEvenS) {}

    /**
     * A point of the holding curve.
     *
     * @param aheadS from now, or from the target, s
     * @param pressurePa that holds the target until the next point, Pa gauge
     * @param kgPerHour gas
     */
    public record HoldPoint(double aheadS, Band pressurePa, double kgPerHour) {}
}
