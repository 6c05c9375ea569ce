package org.bankfire.analysis.lining;

import java.util.List;
import org.bankfire.analysis.quantity.Range;

/**
 * What a lining layer is made of.
 *
 * @param name in the library, or the user's own; not blank
 * @param densityKgPerM3 bulk density, kg/m³, 20 to 5,000
 * @param heatCapacityJPerKgK specific heat, J/(kg K), 100 to 5,000
 * @param conductivity at least one point, of rising temperature; straight lines between, constant outside
 * @param serviceLimitK highest hot-face temperature, K, 373 to 2,300; NaN when nobody knows
 * @param source where the figures come from
 */
public record Material(
        String name,
        double densityKgPerM3,
        double heatCapacityJPerKgK,
        List<ConductivityPoint> conductivity,
        double serviceLimitK,
        String source) {
    /** Bulk densities, kg/m³: from loose fibre to zirconia. */
    public static final Range DENSITY_KG_PER_M3 = new Range(20, 5000);
    /** Specific heats, J/(kg K). */
    public static final Range HEAT_CAPACITY_J_PER_KG_K = new Range(100, 5000);
    /** Conductivities, W/(m K): from still air's 0.01 to silicon carbide. */
    public static final Range CONDUCTIVITY_W_PER_M_K = new Range(0.01, 50);
    /** Temperatures of a conductivity, K. */
    public static final Range CONDUCTIVITY_TEMPERATURE_K = new Range(223.15, 2300);
    /** Service limits, K. */
    public static final Range SERVICE_LIMIT_K = new Range(373.15, 2300);

    /**
     * Conductivity at one temperature.
     *
     * @param temperatureK K
     * @param conductivityWPerMK W/(m K), 0.01 to 50
     */
    public record ConductivityPoint(double temperatureK, double conductivityWPerMK) {
        public ConductivityPoint {
            CONDUCTIVITY_TEMPERATURE_K.require("temperature of a conductivity in K", temperatureK);
            CONDUCTIVITY_W_PER_M_K.require("conductivity in W/(m K)", conductivityWPerMK);
        }
    }

    public Material {
        conductivity = List.copyOf(conductivity);
        if (name.isBlank()) {
            throw new IllegalArgumentException("a material needs a name");
        }
        DENSITY_KG_PER_M3.require("density of " + name + " in kg/m3", densityKgPerM3);
        HEAT_CAPACITY_J_PER_KG_K.require("heat capacity of " + name + " in J/(kg K)", heatCapacityJPerKgK);
        if (!Double.isNaN(serviceLimitK)) {
            SERVICE_LIMIT_K.require("service limit of " + name + " in K", serviceLimitK);
        }
        if (conductivity.isEmpty()) {
            throw new IllegalArgumentException(name + " needs its conductivity at one temperature at least");
        }
        for (int i = 1; i < conductivity.size(); i++) {
            if (conductivity.get(i).temperatureK() <= conductivity.get(i - 1).temperatureK()) {
                throw new IllegalArgumentException("temperatures in the conductivity of " + name + " must rise");
            }
        }
    }
}
