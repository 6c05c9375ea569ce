package org.bankfire.daemon.config;

import java.math.BigDecimal;
import org.bankfire.analysis.reading.Unit;

/**
 * A number with its unit, as read from the configuration.
 *
 * @param value in {@code unit}, finite
 * @param unit of one {@link Dimension}
 */
public record Quantity(double value, Unit unit) {
    /** In the SI unit of its dimension, computed in decimals: 18 mm are 0.018 m, not 0.018000000000000002 m. */
    public double si() {
        return BigDecimal.valueOf(value)
                .multiply(BigDecimal.valueOf(unit.factor()))
                .add(BigDecimal.valueOf(unit.offset()))
                .doubleValue();
    }
}
