package org.bankfire.analysis.trial;

/**
 * What a trial is judged by. What burns of one forge under one set of settings usually differ by, and what a difference is
 * worth noticing at, are common practice, no source; the scatter counts only until burns were repeated often enough.
 */
public enum TrialFigure {
    /** From gas on until the chamber shows the target, s. */
    TIME_TO_TARGET("timeToTarget", "time to target", "s", Better.LESS, false, 0.012, 0.05),
    /** How fast the chamber heats as it passes a temperature, K/min. */
    HEATING_RATE("heatingRate", "heating rate", "K/min", Better.MORE, false, 0.04, 0.05),
    /** Where the soaked forge would come to rest, by the burn's fit, °C. */
    STEADY_TEMPERATURE("steadyTemperature", "steady temperature", "Cel", Better.MORE, true, 8, 10),
    /** Gas that holds the target when the forge is soaked, by the burn's fit, kg/h. */
    GAS_AT_TARGET("gasAtTarget", "gas at target", "kg/h", Better.LESS, false, 0.05, 0.05),
    /** Heat lost through lining and openings, soaked, by the burn's fit, W/K. */
    LOSS_COEFFICIENT("lossCoefficient", "loss coefficient", "W/K", Better.LESS, false, 0.05, 0.05),
    /** Share of the heat input that went into lining, openings and stock until the target, by the burn's fit. */
    EFFICIENCY("efficiency", "efficiency to target", "1", Better.MORE, false, 0.04, 0.05),
    /** Air-to-fuel ratio over stoichiometric, by the burn's fit. */
    MIXTURE("mixture", "mixture", "1", Better.NEITHER, false, 0.04, 0.05),
    /** Fast part of the chamber temperature, K. */
    CHAMBER_FLUTTER("chamberFlutter", "flutter of the chamber", "K", Better.LESS, false, 0.15, 0.3),
    /** Fast part of the gas pressure, Pa. */
    GAS_FLUTTER("gasFlutter", "flutter of the gas", "Pa", Better.LESS, false, 0.15, 0.3);

    /** Which way a figure is better. */
    public enum Better {
        LESS("less"),
        MORE("more"),
        /** It only tells. */
        NEITHER("neither");

        private final String code;

        Better(String code) {
            this.code = code;
        }

        /** As scripts know it. */
        public String code() {
            return code;
        }
    }

    private final String code;
    private final String words;
    private final String unit;
    private final Better better;
    private final boolean plain;
    private final double usualScatter;
    private final double worth;

    TrialFigure(
            String code, String words, String unit, Better better, boolean plain, double usualScatter, double worth) {
        this.code = code;
        this.words = words;
        this.unit = unit;
        this.better = better;
        this.plain = plain;
        this.usualScatter = usualScatter;
        this.worth = worth;
    }

    /** As scripts know it. */
    public String code() {
        return code;
    }

    /** For the reader. */
    public String words() {
        return words;
    }

    /** Symbol of the unit; {@code 1} for a pure number. */
    public String unit() {
        return unit;
    }

    /** Which way is better. */
    public Better better() {
        return better;
    }

    /** Whether differences are in kelvin; else they are shares. */
    public boolean isPlain() {
        return plain;
    }

    /** Whether it is of the burn's fit; else it is measured. */
    boolean isFitted() {
        return switch (this) {
            case STEADY_TEMPERATURE, GAS_AT_TARGET, LOSS_COEFFICIENT, EFFICIENCY, MIXTURE -> true;
            case TIME_TO_TARGET, HEATING_RATE, CHAMBER_FLUTTER, GAS_FLUTTER -> false;
        };
    }

    /** Standard deviation from burn to burn on the figure's scale: K, or a share. */
    double usualScatter() {
        return usualScatter;
    }

    /** A difference that a user would not want to miss, on the figure's scale. */
    double worth() {
        return worth;
    }

    /** A value on the scale on which differences are taken. */
    double scaled(double value) {
        return plain ? value : Math.log(value);
    }

    /** The value back from that scale. */
    double unscaled(double scaled) {
        return plain ? scaled : Math.exp(scaled);
    }

    /** A difference on that scale as the reader has it: K, or %. */
    double shown(double difference) {
        return plain ? difference : 100 * Math.expm1(difference);
    }
}
