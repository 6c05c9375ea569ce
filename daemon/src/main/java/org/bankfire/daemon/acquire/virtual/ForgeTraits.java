package org.bankfire.daemon.acquire.virtual;

import java.util.List;

/**
 * Everything that makes one virtual forge differ from another. Lengths in m, temperatures in °C, all else in SI.
 *
 * @param chamber inside of the chamber
 * @param lining layers from the hot face outwards, one to four
 * @param front opening that nothing closes
 * @param rear opening that a plug closes
 * @param rearPlugged whether the plug is in at first
 * @param burner jet, throat and what they mix
 * @param exchange how the chamber gives and takes heat
 * @param frame sheet around the lining
 * @param probe chamber thermocouple
 * @param droopPaPerKgS pressure that the regulator gives way by per gas flow, Pa s/kg, 0 to 2e7
 * @param ambientC air and everything around the forge, °C, −20 to 45
 * @param airPressurePa barometric, Pa, 60 to 107 kPa
 * @param noise of flame and sensors
 */
public record ForgeTraits(
        Chamber chamber,
        List<Layer> lining,
        Hole front,
        Hole rear,
        boolean rearPlugged,
        Burner burner,
        Exchange exchange,
        Frame frame,
        Probe probe,
        double droopPaPerKgS,
        double ambientC,
        double airPressurePa,
        Noise noise) {
    /** A fifth layer would be a mistake rather than a lining. */
    private static final int MOST_LAYERS = 4;

    public ForgeTraits {
        lining = List.copyOf(lining);
        if (lining.isEmpty() || lining.size() > MOST_LAYERS) {
            throw new IllegalArgumentException(
                    "lining of " + lining.size() + " layers: allowed are 1 to " + MOST_LAYERS);
        }
        within("droop in Pa s/kg", droopPaPerKgS, 0, 2e7);
        within("ambient in °C", ambientC, -20, 45);
        within("air pressure in Pa", airPressurePa, 60_000, 107_000);
        if (front.widthM() > chamber.widthM()
                || front.heightM() > chamber.heightM()
                || rear.widthM() > chamber.widthM()
                || rear.heightM() > chamber.heightM()) {
            throw new IllegalArgumentException("openings of " + front + " and " + rear + " do not fit " + chamber);
        }
    }

    /**
     * A box.
     *
     * @param widthM 0.05 to 1
     * @param heightM 0.05 to 1
     * @param depthM 0.05 to 1
     */
    public record Chamber(double widthM, double heightM, double depthM) {
        public Chamber {
            within("chamber width in m", widthM, 0.05, 1);
            within("chamber height in m", heightM, 0.05, 1);
            within("chamber depth in m", depthM, 0.05, 1);
        }

        /** Six faces with whatever holes they have, m². */
        public double surfaceM2() {
            return 2 * (widthM * heightM + heightM * depthM + widthM * depthM);
        }

        /** Twelve edges, m. */
        public double edgesM() {
            return 4 * (widthM + heightM + depthM);
        }
    }

    /**
     * One layer of lining.
     *
     * @param thicknessM 5 mm to 0.3 m
     * @param densityKgPerM3 50 to 3,500
     * @param heatCapacityJPerKgK 500 to 2,000
     * @param conductivityAtZeroWPerMK at 0 °C, 0.02 to 3
     * @param conductivitySlopeWPerMK2 what it gains per kelvin, 0 to 0.001
     */
    public record Layer(
            double thicknessM,
            double densityKgPerM3,
            double heatCapacityJPerKgK,
            double conductivityAtZeroWPerMK,
            double conductivitySlopeWPerMK2) {
        public Layer {
            within("thickness of a layer in m", thicknessM, 0.005, 0.3);
            within("density in kg/m³", densityKgPerM3, 50, 3_500);
            within("heat capacity in J/(kg K)", heatCapacityJPerKgK, 500, 2_000);
            within("conductivity at 0 °C in W/(m K)", conductivityAtZeroWPerMK, 0.02, 3);
            within("rise of conductivity in W/(m K²)", conductivitySlopeWPerMK2, 0, 0.001);
        }

        /** W/(m K). */
        public double conductivity(double celsius) {
            return conductivityAtZeroWPerMK + conductivitySlopeWPerMK2 * celsius;
        }
    }

    /**
     * A rectangular hole through the whole lining.
     *
     * @param widthM 10 mm to 0.6 m
     * @param heightM 10 mm to 0.6 m
     */
    public record Hole(double widthM, double heightM) {
        public Hole {
            within("width of an opening in m", widthM, 0.01, 0.6);
            within("height of an opening in m", heightM, 0.01, 0.6);
        }

        public double areaM2() {
            return widthM * heightM;
        }
    }

    /**
     * An atmospheric propane burner.
     *
     * @param jetM bore, 0.3 to 3 mm
     * @param discharge coefficient of the jet, 0.4 to 1
     * @param throatM bore of the mixing tube, 5 to 80 mm; for the description: what it draws is {@code mixture}
     * @param mixture air over stoichiometric air, 0.6 to 2
     */
    public record Burner(double jetM, double discharge, double throatM, double mixture) {
        public Burner {
            within("jet bore in m", jetM, 0.3e-3, 3e-3);
            within("discharge coefficient", discharge, 0.4, 1);
            within("throat bore in m", throatM, 5e-3, 80e-3);
            within("mixture", mixture, 0.6, 2);
        }
    }

    /**
     * How the chamber gives and takes heat.
     *
     * @param jetWPerM2K convection that the flame adds when 0.018 kg of flue gas a second pass a square metre of wall,
     *     0 to 150
     * @param stillWPerM2K convection when nothing blows, 1 to 30
     * @param wallEmissivity of the hot face, 0.3 to 1
     * @param gasEmissivityFactor on the emissivity of clear combustion gas, 0 to 4
     * @param draughtDischarge of air that falls in through openings against a smooth hole, 0 to 1
     */
    public record Exchange(
            double jetWPerM2K,
            double stillWPerM2K,
            double wallEmissivity,
            double gasEmissivityFactor,
            double draughtDischarge) {
        public Exchange {
            within("convection of the flame in W/(m² K)", jetWPerM2K, 0, 150);
            within("convection in still gas in W/(m² K)", stillWPerM2K, 1, 30);
            within("emissivity of the hot face", wallEmissivity, 0.3, 1);
            within("factor of the gas emissivity", gasEmissivityFactor, 0, 4);
            within("discharge coefficient of the draught", draughtDischarge, 0, 1);
        }
    }

    /**
     * Sheet around the lining.
     *
     * @param emissivity 0.1 to 1
     * @param joulesPerM2K heat capacity, 500 to 50,000
     * @param contactWPerM2K lining against sheet, 5 to 10,000
     */
    public record Frame(double emissivity, double joulesPerM2K, double contactWPerM2K) {
        public Frame {
            within("emissivity of the frame", emissivity, 0.1, 1);
            within("heat capacity of the frame in J/(m² K)", joulesPerM2K, 500, 50_000);
            within("contact of lining and frame in W/(m² K)", contactWPerM2K, 5, 10_000);
        }
    }

    /**
     * The chamber thermocouple.
     *
     * @param lagS time constant, 0.2 to 120
     * @param gasShare part of the gas in what it settles at, beside a hot face of 1,100 °C and in the flow that
     *     {@link Exchange#jetWPerM2K} is stated for, 0 to 0.9
     */
    public record Probe(double lagS, double gasShare) {
        public Probe {
            within("lag of the probe in s", lagS, 0.2, 120);
            within("gas share of the probe", gasShare, 0, 0.9);
        }
    }

    /**
     * Standard deviations, and the steps of the converters.
     *
     * @param flutterK of the gas at the probe while the flame burns, 0 to 50
     * @param chamberK of the chamber reading, 0 to 10
     * @param chamberStepK 0.001 to 5
     * @param pressurePa of the pressure reading, 0 to 5,000
     * @param pressureShare of the pressure reading as a part of the pressure, 0 to 0.05
     * @param pressureStepPa 0.1 to 5,000
     * @param shellK of shell and ambient readings, 0 to 5
     */
    public record Noise(
            double flutterK,
            double chamberK,
            double chamberStepK,
            double pressurePa,
            double pressureShare,
            double pressureStepPa,
            double shellK) {
        public Noise {
            within("flutter in K", flutterK, 0, 50);
            within("noise of the chamber reading in K", chamberK, 0, 10);
            within("step of the chamber reading in K", chamberStepK, 0.001, 5);
            within("noise of the pressure in Pa", pressurePa, 0, 5_000);
            within("noise of the pressure as a part of it", pressureShare, 0, 0.05);
            within("step of the pressure in Pa", pressureStepPa, 0.1, 5_000);
            within("noise of the shell reading in K", shellK, 0, 5);
        }
    }

    /** The small forge of light block that the demo shows. Figures are common practice, no source. */
    public static ForgeTraits shed() {
        return new ForgeTraits(
                new Chamber(0.18, 0.15, 0.25),
                List.of(new Layer(0.076, 520, 1_040, 0.135, 0.085e-3)),
                new Hole(0.1, 0.115),
                new Hole(0.07, 0.07),
                true,
                new Burner(0.8e-3, 0.84, 18e-3, 1.2),
                new Exchange(28, 6, 0.85, 0.8, 0.13),
                new Frame(0.9, 4_800, 40),
                new Probe(8, 0.22),
                6.5e6,
                20,
                100_500,
                new Noise(5, 0.25, 0.25, 60, 0.0008, 100, 0.08));
    }

    /** All layers together, m. */
    public double thicknessM() {
        double sum = 0;
        for (Layer layer : lining) {
            sum += layer.thicknessM();
        }
        return sum;
    }

    /** Hot face without the front opening, m²; a plug counts as lining. */
    public double wallM2() {
        return chamber.surfaceM2() - front.areaM2();
    }

    /** Outside of the frame without the front opening, m². */
    public double frameM2() {
        double both = 2 * thicknessM();
        double width = chamber.widthM() + both;
        double height = chamber.heightM() + both;
        double depth = chamber.depthM() + both;
        return 2 * (width * height + height * depth + width * depth) - front.areaM2();
    }

    private static void within(String what, double value, double low, double high) {
        if (!(value >= low && value <= high)) {
            throw new IllegalArgumentException(what + " is " + value + ": allowed are " + low + " to " + high);
        }
    }
}
