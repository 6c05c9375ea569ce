package org.bankfire.analysis.gas;

import java.util.ArrayList;
import java.util.List;

/**
 * What it means that the gas pressure sags at a regulator nobody touched. The pressure before the regulator is not
 * measured in a home-built forge; it is bounded by the vapour pressure of the liquid at its temperature, ± two standard
 * uncertainties. Where that and the contents leave more than one explanation open, the answer is that it cannot be told,
 * and what would tell.
 *
 * @param cause what it is
 * @param possible every cause that the evidence leaves open, the likelier first; one when {@code cause} is one, none when
 *     nothing sags
 * @param lowestVapourGaugePa least pressure that the cylinder may keep up before the regulator, Pa gauge; NaN when its
 *     temperature is not known
 * @param highestVapourGaugePa greatest, Pa gauge; NaN likewise
 * @param explanation for the builder, a sentence or two
 * @param next what to do, or what would tell; empty when nothing sags
 */
public record SaggingPressure(
        Cause cause,
        List<Cause> possible,
        double lowestVapourGaugePa,
        double highestVapourGaugePa,
        String explanation,
        String next) {
    /**
     * What a regulator needs before it above what it gives, at the flow of a forge, Pa: below that it passes on what it
     * gets. Common practice, no source.
     */
    public static final double REGULATOR_NEEDS_PA = 0.5e5;
    /** Loss, over the set pressure, from which the pressure is said to sag. Common practice, no source. */
    public static final double SAG_SHARE = 0.05;
    /** Contents, over the capacity, below which the liquid is gone: vapour alone fills a cylinder with some 4 %. */
    public static final double EMPTY_SHARE = 0.05;
    /**
     * Contents, over the capacity, up to which emptying cannot be excluded: scale, stamped tare and ice together are
     * worth no more, and what is left of a mixture is its heavy part. Common practice, no source.
     */
    public static final double LITTLE_SHARE = 0.15;

    private static final double COVERAGE = 2;

    private static final String WARM =
            "Stand it upright in tepid water, not above what the hand bears, never near a flame"
                    + " or a heater; or take a larger cylinder.";
    private static final String WEIGH = "Weigh the cylinder, wiped dry of ice, and take off the tare stamped on it.";
    private static final String FEEL = "Measure the cylinder's wall below the liquid line, where it is coldest.";
    private static final String LOOK =
            "Close the gas at the cylinder, then look at the regulator's setting, at the hose"
                    + " for kinks, at every valve, and for leaks with soapy water, never with a flame.";

    public SaggingPressure {
        possible = List.copyOf(possible);
    }

    /** Why a pressure sags. */
    public enum Cause {
        /** It does not. */
        NOT_SAGGING,
        /** The liquid is too cold to keep up the pressure that the regulator needs. */
        COLD_CYLINDER,
        /** The liquid is gone or nearly so. */
        EMPTYING_CYLINDER,
        /** The cylinder would keep it up: the regulator was turned or ices, or the hose is kinked, shut or leaks. */
        REGULATOR_OR_HOSE,
        /** The evidence leaves more than one cause open. */
        CANNOT_TELL
    }

    /**
     * What is known.
     *
     * @param cylinder that the gas comes from
     * @param setGaugePa what the regulator gave before it sagged, Pa gauge, above 0
     * @param nowGaugePa what it gives now, Pa gauge
     * @param ambientPa pressure of the air, Pa absolute, above 0
     * @param liquidK temperature of the liquid, measured or by {@link Cylinder#liquidK}, K; NaN when not known
     * @param liquidStandardUncertaintyK of it, K, 0 or more; of no meaning when it is not known
     * @param contentsKg gas left by the scale, kg, 0 or more; NaN when not known
     */
    public record Evidence(
            Cylinder cylinder,
            double setGaugePa,
            double nowGaugePa,
            double ambientPa,
            double liquidK,
            double liquidStandardUncertaintyK,
            double contentsKg) {
        public Evidence {
            if (!(setGaugePa > 0 && Double.isFinite(setGaugePa))) {
                throw new IllegalArgumentException("set pressure is " + setGaugePa + " Pa: allowed is above 0");
            }
            if (!Double.isFinite(nowGaugePa)) {
                throw new IllegalArgumentException("pressure now is " + nowGaugePa + " Pa: it must be a number");
            }
            if (!(ambientPa > 0)) {
                throw new IllegalArgumentException("pressure of the air is " + ambientPa + " Pa: allowed is above 0");
            }
            if (!Double.isNaN(liquidK)) {
                VapourPressure.TEMPERATURE_K.require("temperature of the liquid in K", liquidK);
                if (!(liquidStandardUncertaintyK >= 0)) {
                    throw new IllegalArgumentException("uncertainty of the liquid's temperature is "
                            + liquidStandardUncertaintyK + " K: allowed is 0 or more");
                }
            }
            if (contentsKg < 0) {
                throw new IllegalArgumentException("contents are " + contentsKg + " kg: allowed are 0 or more");
            }
        }

        private double gaugePa(double uncertainties) {
            double kelvin = liquidK + uncertainties * liquidStandardUncertaintyK;
            double clamped =
                    Math.max(VapourPressure.TEMPERATURE_K.low(), Math.min(VapourPressure.TEMPERATURE_K.high(), kelvin));
            return cylinder.gaugePa(clamped, ambientPa);
        }
    }

    private enum Answer {
        NO,
        OPEN,
        YES
    }

    /** What the evidence says. */
    public static SaggingPressure judge(Evidence evidence) {
        double lowestPa = evidence.gaugePa(-COVERAGE);
        double highestPa = evidence.gaugePa(COVERAGE);
        if (evidence.nowGaugePa() >= (1 - SAG_SHARE) * evidence.setGaugePa()) {
            return new SaggingPressure(
                    Cause.NOT_SAGGING, List.of(), lowestPa, highestPa, "The pressure is where it was set.", "");
        }
        if (evidence.nowGaugePa() > highestPa) {
            return new SaggingPressure(
                    Cause.CANNOT_TELL,
                    List.of(Cause.COLD_CYLINDER, Cause.EMPTYING_CYLINDER, Cause.REGULATOR_OR_HOSE),
                    lowestPa,
                    highestPa,
                    "The jet gets more pressure than this fuel could have in the cylinder at this temperature: the"
                            + " temperature, the fuel or the pressure is not what it is taken for.",
                    FEEL + " " + WEIGH);
        }
        Answer cold = cold(lowestPa, highestPa, evidence.setGaugePa() + REGULATOR_NEEDS_PA);
        Answer emptying = emptying(evidence.contentsKg() / evidence.cylinder().capacityKg());
        Cause cause = cause(cold, emptying);
        return new SaggingPressure(
                cause,
                possible(cause, cold, emptying),
                lowestPa,
                highestPa,
                explanation(cause, cold, emptying),
                next(cause, cold, emptying));
    }

    private static Answer cold(double lowestPa, double highestPa, double neededPa) {
        if (highestPa <= neededPa) {
            return Answer.YES;
        }
        return lowestPa > neededPa ? Answer.NO : Answer.OPEN;
    }

    private static Answer emptying(double share) {
        if (share <= EMPTY_SHARE) {
            return Answer.YES;
        }
        return share > LITTLE_SHARE ? Answer.NO : Answer.OPEN;
    }

    private static Cause cause(Answer cold, Answer emptying) {
        if (emptying == Answer.YES) {
            return Cause.EMPTYING_CYLINDER;
        }
        if (cold == Answer.YES) {
            return Cause.COLD_CYLINDER;
        }
        return cold == Answer.NO && emptying == Answer.NO ? Cause.REGULATOR_OR_HOSE : Cause.CANNOT_TELL;
    }

    private static List<Cause> possible(Cause cause, Answer cold, Answer emptying) {
        if (cause != Cause.CANNOT_TELL) {
            return List.of(cause);
        }
        List<Cause> possible = new ArrayList<>();
        if (cold == Answer.OPEN) {
            possible.add(Cause.COLD_CYLINDER);
        }
        if (emptying == Answer.OPEN) {
            possible.add(Cause.EMPTYING_CYLINDER);
        }
        possible.add(Cause.REGULATOR_OR_HOSE);
        return possible;
    }

    private static String explanation(Cause cause, Answer cold, Answer emptying) {
        return switch (cause) {
            case NOT_SAGGING -> "";
            case EMPTYING_CYLINDER ->
                "The cylinder is all but empty: what is left is vapour"
                        + (cold == Answer.YES ? ", and it is cold." : ".");
            case COLD_CYLINDER ->
                "The cylinder is cold: it keeps up no more pressure than the regulator needs. Drawing gas"
                        + " cools it further."
                        + (emptying == Answer.OPEN ? " It may be emptying too: little liquid cools faster." : "");
            case REGULATOR_OR_HOSE ->
                "Neither cold nor want of gas explains it: the cylinder keeps up pressure enough. The"
                        + " regulator was turned or is icing, or the hose is kinked, partly shut or leaking.";
            case CANNOT_TELL ->
                "It cannot be told from what is known: "
                        + (cold == Answer.OPEN ? "the cylinder may be too cold, " : "")
                        + (emptying == Answer.OPEN ? "it may be emptying, " : "")
                        + "or it is the regulator or the hose.";
        };
    }

    private static String next(Cause cause, Answer cold, Answer emptying) {
        return switch (cause) {
            case NOT_SAGGING -> "";
            case EMPTYING_CYLINDER -> "Change the cylinder.";
            case COLD_CYLINDER -> WARM + (emptying == Answer.OPEN ? " " + WEIGH : "");
            case REGULATOR_OR_HOSE -> LOOK;
            case CANNOT_TELL ->
                (emptying == Answer.OPEN ? WEIGH + " " : "")
                        + (cold == Answer.OPEN ? FEEL + " If it is cold: " + lowerFirst(WARM) + " " : "")
                        + "If that changes nothing: " + lowerFirst(LOOK);
        };
    }

    private static String lowerFirst(String sentence) {
        return Character.toLowerCase(sentence.charAt(0)) + sentence.substring(1);
    }
}
