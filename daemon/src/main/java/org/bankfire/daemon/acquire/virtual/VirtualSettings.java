package org.bankfire.daemon.acquire.virtual;

/**
 * A virtual forge as a source.
 *
 * @param forge id that it reports as
 * @param speed simulated seconds a second, 0.1 to 1,000
 * @param rateHz packs a simulated second, 0.1 to 50
 * @param seed of its noise: the same seed gives the same burn
 */
public record VirtualSettings(String forge, double speed, double rateHz, long seed) {}
