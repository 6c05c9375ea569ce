package org.bankfire.analysis.prediction;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.HeatLedger;

/**
 * What a forge is expected to do. Bands hold 95 % of the forges that fit the description.
 *
 * @param parameters the description's
 * @param priors what the band stands on
 * @param members how many forges make the band
 * @param curve in rising time, from 0
 * @param timeToTargetS until the chamber probe shows the target, s
 * @param steadyK what the probe shows when the forge is soaked at the programme's last pressure, K
 * @param shellK of the outer face in that state, K
 * @param flame the flame by itself
 * @param lossWPerK lining and openings, soaked, at the target, W/K above ambient
 * @param idle the gas that holds the target
 * @param bar how the bar comes along, if there is one
 * @param drawn the figures of each of the members, in their order
 */
public record Prediction(
        ForgeParameters parameters,
        List<Prior> priors,
        int members,
        List<Point> curve,
        Band timeToTargetS,
        Band steadyK,
        Band shellK,
        Flame flame,
        Band lossWPerK,
        Idle idle,
        Optional<BarSoak> bar,
        List<Drawn> drawn) {
    public Prediction {
        drawn = List.copyOf(drawn);
        priors = List.copyOf(priors);
        curve = List.copyOf(curve);
    }

    /**
     * The figures of one member of the band; NaN for what it does not reach.
     *
     * @param timeToTargetS s
     * @param steadyK K
     * @param shellK K
     * @param lossWPerK W/K
     * @param soakedPa Pa gauge
     * @param soakedKgPerHour gas
     */
    public record Drawn(
            double timeToTargetS,
            double steadyK,
            double shellK,
            double lossWPerK,
            double soakedPa,
            double soakedKgPerHour) {}

    /**
     * A moment.
     *
     * @param timeS since gas on, s
     * @param gaugePa gas pressure, Pa
     * @param chamberK what the chamber probe shows, K, with its band
     * @param hotFaceK K
     * @param shellK outer face, K
     * @param gasKg used since gas on, kg
     * @param ledgerW where the heat went since the moment before, mean W; at the first moment nothing
     */
    public record Point(
            double timeS,
            double gaugePa,
            Band chamberK,
            double hotFaceK,
            double shellK,
            double gasKg,
            HeatLedger ledgerW) {}

    /**
     * The flame at the programme's last pressure.
     *
     * @param mixture air-to-fuel ratio over stoichiometric
     * @param heatInputW W
     * @param kgPerHour gas
     * @param adiabaticK temperature of the flame if it lost no heat, with dissociation, K
     * @param carbonMonoxideFraction mole fraction in the gas that leaves the chamber when soaked; what burns at the opening
     *     is not counted
     */
    public record Flame(
            double mixture, double heatInputW, double kgPerHour, double adiabaticK, double carbonMonoxideFraction) {}

    /**
     * Holding the target. NaN where the programme does not reach it, or 4 bar would not hold it.
     *
     * @param targetK K
     * @param soakedPa pressure that holds it when the lining takes no more heat, Pa gauge
     * @param soakedKgPerHour gas at that pressure
     * @param firstPa pressure that holds it for the five minutes after it is first reached
     * @param firstKgPerHour gas at that pressure
     */
    public record Idle(double targetK, Band soakedPa, Band soakedKgPerHour, Band firstPa, double firstKgPerHour) {}

    /**
     * How a bar follows.
     *
     * @param inS when it goes in, s
     * @param biot half-way: below 0.1 it is nearly of one temperature
     * @param soakS from then until its axis is 5 % of the way short of the chamber's temperature, s; NaN when not within
     *     the duration
     * @param centreK of its axis, at each moment of the curve from {@code inS} on, K
     */
    public record BarSoak(double inS, double biot, double soakS, List<Double> centreK) {
        public BarSoak {
            centreK = List.copyOf(centreK);
        }
    }
}
