package org.bankfire.analysis.flame;

/**
 * What the flame test wants to know of the forge beforehand: enough for a first guess of how far the temperature falls
 * when the heat goes away, which the burn in progress then corrects.
 *
 * @param wallAreaM2 inner surface of the chamber without its openings, m²
 * @param effusivityWs05PerM2K √(k ρ c) of the hot-face layer when hot, W s½/(m² K)
 * @param lowerHeatingValueJPerKg of the fuel, J/kg
 * @param probeLagS first-order time constant of the probe, s, 0 or more
 */
public record FlameChamber(
        double wallAreaM2, double effusivityWs05PerM2K, double lowerHeatingValueJPerKg, double probeLagS) {
    public FlameChamber {
        if (!(wallAreaM2 > 0 && effusivityWs05PerM2K > 0 && lowerHeatingValueJPerKg > 0 && probeLagS >= 0)) {
            throw new IllegalArgumentException("flame test: wall " + wallAreaM2 + " m², effusivity "
                    + effusivityWs05PerM2K + " W s½/(m² K), heating value " + lowerHeatingValueJPerKg + " J/kg, lag "
                    + probeLagS + " s; allowed are positive values");
        }
    }
}
