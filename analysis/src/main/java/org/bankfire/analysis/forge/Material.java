package org.bankfire.analysis.forge;

import java.util.List;

/**
 * What a lining layer is made of.
 *
 * @param name in the library, or the user's own
 * @param densityKgPerM3 bulk density, kg/m³
 * @param heatCapacityJPerKgK specific heat, J/(kg K)
 * @param conductivity points of rising temperature; straight lines between, constant outside
 * @param serviceLimitK highest hot-face temperature, K; NaN when nobody knows
 * @param source where the figures come from
 */
public record Material(
        String name,
        double densityKgPerM3,
        double heatCapacityJPerKgK,
        List<ConductivityPoint> conductivity,
        double serviceLimitK,
        String source) {
    /**
     * Conductivity at one temperature.
     *
     * @param temperatureK K
     * @param conductivityWPerMK W/(m K)
     */
    public record ConductivityPoint(double temperatureK, double conductivityWPerMK) {}

    public Material {
        conductivity = List.copyOf(conductivity);
    }
}
