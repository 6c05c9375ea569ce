package org.bankfire.analysis.heat;

import org.bankfire.analysis.combustion.AtmosphericBurner;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.quantity.Range;

/**
 * What a description leaves open about a forge, as factors on what follows from the description; all 1 but for mixture,
 * lag and draught when the description is believed.
 *
 * @param heatRelease on the gas flow of the jet, 0.2 to 5
 * @param mixture air-to-fuel ratio over stoichiometric, 0.4 to 5
 * @param conductivity on the lining's conductivity, 0.2 to 5
 * @param capacity on the lining's heat capacity, 0.2 to 5
 * @param opening on the effective area of the openings, 0 to 10
 * @param probeLagS first-order time constant of the chamber probe, s, 0 to 300
 * @param convection on the convection from the flame, 0.1 to 10
 * @param gasEmissivity on the emissivity of the chamber gas, 0.1 to 10
 * @param outerFace on the heat given off by the outer face, 0.1 to 10
 * @param draught on the air that comes in through the openings, 0.01 to 10
 * @param probeConvection on the convection from gas to probe, against that to the wall, 0.1 to 10
 */
public record ForgeParameters(
        double heatRelease,
        double mixture,
        double conductivity,
        double capacity,
        double opening,
        double probeLagS,
        double convection,
        double gasEmissivity,
        double outerFace,
        double draught,
        double probeConvection) {
    /** Factors of heat release, conductivity and capacity, 1. */
    public static final Range FACTOR = new Range(0.2, 5);
    /** Mixtures, 1. */
    public static final Range MIXTURE = new Range(0.4, 5);
    /** Factors of the openings, 1. */
    public static final Range OPENING = new Range(0, 10);
    /** Factors of the draught, 1. */
    public static final Range DRAUGHT = new Range(0.01, 10);
    /**
     * Of the draught of a fire in a room, what is taken for a hole of a hand's breadth: its stream is slow and meets the
     * burner's. Common practice, no source.
     */
    public static final double USUAL_DRAUGHT = 0.4;
    /** Factors of the exchange of heat, 1. */
    public static final Range EXCHANGE = new Range(0.1, 10);

    public ForgeParameters {
        FACTOR.require("heat release factor", heatRelease);
        MIXTURE.require("mixture", mixture);
        FACTOR.require("lining conductivity scale", conductivity);
        FACTOR.require("lining capacity scale", capacity);
        OPENING.require("opening factor", opening);
        ForgeDescription.PROBE_LAG_S.require("probe lag in s", probeLagS);
        EXCHANGE.require("convection factor", convection);
        EXCHANGE.require("gas emissivity factor", gasEmissivity);
        EXCHANGE.require("outer face factor", outerFace);
        DRAUGHT.require("draught factor", draught);
        EXCHANGE.require("probe convection factor", probeConvection);
    }

    /** What the description says; a mixture that no burner has is taken for the leanest or richest of {@link #MIXTURE}. */
    public static ForgeParameters of(ForgeDescription forge) {
        Burner burner = forge.burner();
        double mixture = AtmosphericBurner.mixture(
                burner.fuel(), burner.jetDiameterM(), burner.throatDiameterM(), burner.freeThroatFraction());
        return new ForgeParameters(
                1,
                Math.min(MIXTURE.high(), Math.max(MIXTURE.low(), mixture)),
                1,
                1,
                1,
                forge.probeLagS(),
                1,
                1,
                1,
                USUAL_DRAUGHT,
                1);
    }

    /** How many they are. */
    public static final int COUNT = 11;

    /** All of them, in the order of the record. */
    public double[] inOrder() {
        return new double[] {
            heatRelease,
            mixture,
            conductivity,
            capacity,
            opening,
            probeLagS,
            convection,
            gasEmissivity,
            outerFace,
            draught,
            probeConvection
        };
    }

    /**
     * Parameters of such an array.
     *
     * @throws IllegalArgumentException when one is out of its range, or they are not {@link #COUNT}
     */
    public static ForgeParameters ofOrder(double[] all) {
        if (all.length != COUNT) {
            throw new IllegalArgumentException(all.length + " parameters of a forge: there are " + COUNT);
        }
        return new ForgeParameters(
                all[0], all[1], all[2], all[3], all[4], all[5], all[6], all[7], all[8], all[9], all[10]);
    }
}
