package org.bankfire.daemon.acquire.virtual;

/**
 * A virtual forge as a source.
 *
 * @param forge id that it reports as
 * @param speed simulated seconds a second, 0.1 to 1,000
 * @param rateHz packs a simulated second, 0.1 to 50
 * @param seed of its noise: the same seed gives the same burn
 */
public record VirtualSettings(String forge, double speed, double rateHz, long seed) {
    public VirtualSettings {
        if (!(speed >= 0.1 && speed <= 1_000)) {
            throw new IllegalArgumentException(
                    "virtual forge " + forge + ": speed " + speed + "; allowed are 0.1 to 1000");
        }
        if (!(rateHz >= 0.1 && rateHz <= 50)) {
            throw new IllegalArgumentException(
                    "virtual forge " + forge + ": rate " + rateHz + " Hz; allowed are 0.1 to 50");
        }
    }
}
