package org.bankfire.analysis.flame;

/**
 * How the probe answers to the heat of the flame, in two parts that add up: the hot gas around the probe, which comes and
 * goes with the flame, and the hot face of the lining, which follows with the square root of time as a semi-infinite
 * solid does (Carslaw and Jaeger, Conduction of Heat in Solids, section 2.9: surface temperature for a constant flux q is
 * 2 q √(t/π) / e). Both are seen through the first-order lag of the probe.
 *
 * <p>The half-order integral of the flux is computed as a sum of first-order filters, from 1/√s = (1/π) ∫ λ^(−1/2)/(s + λ)
 * dλ with one filter for each factor of three in λ; within 5 % from 1 s to 1,000 s.
 */
final class HeatResponse {
    private static final int FILTERS = 13;
    private static final double FASTEST_PER_S = 6;
    private static final double RATIO = 3;
    /** What all faster filters together would add, which follow at once: ∫ λ^(−3/2) dλ / π from the last one's edge. */
    private static final double AT_ONCE = 2 / (Math.PI * Math.sqrt(FASTEST_PER_S * Math.sqrt(RATIO)));

    private final double[] rates = new double[FILTERS];
    private final double[] weights = new double[FILTERS];
    private final double[] states = new double[FILTERS];
    private final double[] decays = new double[FILTERS];
    private final double effusivity;
    private final double lagS;
    private double lagDecay;
    private double decaysForS = -1;
    private double gasK;
    private double wallK;

    HeatResponse(double effusivity, double lagS) {
        this.effusivity = effusivity;
        this.lagS = lagS;
        double rate = FASTEST_PER_S;
        for (int i = 0; i < FILTERS; i++) {
            rates[i] = rate;
            weights[i] = Math.sqrt(rate) * Math.log(RATIO) / Math.PI;
            rate /= RATIO;
        }
    }

    /** Numbers in {@link #save}. */
    static int stateSize() {
        return FILTERS + 2;
    }

    /** Writes the state to {@code to} from {@code offset}. */
    void save(double[] to, int offset) {
        System.arraycopy(states, 0, to, offset, FILTERS);
        to[offset + FILTERS] = gasK;
        to[offset + FILTERS + 1] = wallK;
    }

    /** Goes back to a saved state. */
    void restore(double[] from, int offset) {
        System.arraycopy(from, offset, states, 0, FILTERS);
        gasK = from[offset + FILTERS];
        wallK = from[offset + FILTERS + 1];
    }

    /**
     * Moves on.
     *
     * @param seconds more than 0, with constant heat
     * @param gasDrive what the gas part follows, W/m²
     * @param flux into the wall, W/m²
     */
    void step(double seconds, double gasDrive, double flux) {
        if (seconds != decaysForS) {
            decaysForS = seconds;
            for (int i = 0; i < FILTERS; i++) {
                decays[i] = Math.exp(-rates[i] * seconds);
            }
            lagDecay = lagS > 0 ? Math.exp(-seconds / lagS) : 0;
        }
        double half = AT_ONCE * flux;
        for (int i = 0; i < FILTERS; i++) {
            states[i] = states[i] * decays[i] + flux * (1 - decays[i]) / rates[i];
            half += weights[i] * states[i];
        }
        gasK = gasDrive + (gasK - gasDrive) * lagDecay;
        double face = half / effusivity;
        wallK = face + (wallK - face) * lagDecay;
    }

    /** Gas part, in units of {@code gasDrive}. */
    double gas() {
        return gasK;
    }

    /** Wall part, K. */
    double wall() {
        return wallK;
    }
}
