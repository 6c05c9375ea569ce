package org.bankfire.daemon.config;

import java.math.BigDecimal;

/**
 * What closes a burner's throat, kept as it was written so that it can be printed and changed by itself.
 *
 * @param choke share of the area that the choke closes, 0 to 0.95
 * @param obstruction share of what the choke leaves that anything else closes, such as the jet's holder, 0 to 0.95
 */
public record ThroatConfig(double choke, double obstruction) {
    /** Nothing closes it. */
    public static final ThroatConfig OPEN = new ThroatConfig(0, 0);

    /** Free part of the area, 1, computed in decimals: 20 % and 10 % leave 0.72, not 0.7200000000000001. */
    public double freeFraction() {
        return free(choke).multiply(free(obstruction)).doubleValue();
    }

    private static BigDecimal free(double closed) {
        return BigDecimal.ONE.subtract(BigDecimal.valueOf(closed));
    }
}
