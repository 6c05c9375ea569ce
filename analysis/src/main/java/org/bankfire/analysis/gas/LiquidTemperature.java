package org.bankfire.analysis.gas;

/**
 * Follows how cold the liquid in a cylinder gets while gas is drawn and how it warms again: one lump of liquid and steel,
 *
 * <pre>  C · dT/dt = G · (T ambient − T) − m · L</pre>
 *
 * with the heat gain G and the draw m as in {@link Cylinder}. It begins at ambient temperature: a cylinder that came in
 * from the cold, or was drawn from just before, is another matter, which {@link #standardUncertaintyK} does not know.
 */
public final class LiquidTemperature {
    /** Liquid propane near 0 °C, J/(kg K), from memory; other gases of its kind are within 10 %. */
    private static final double LIQUID_J_PER_KG_K = 2_500;
    /** Low-carbon steel, J/(kg K), from memory. */
    private static final double STEEL_J_PER_KG_K = 480;
    /** Steel of a cylinder over what it holds, when its tare is not known. Common practice, no source. */
    private static final double USUAL_STEEL_SHARE = 0.85;

    private static final double MICROS_PER_S = 1e6;
    /** The temperature of the room where the cylinder stands, K. Common practice, no source. */
    private static final double ROOM_UNCERTAINTY_K = 3;
    /** Of the chill: heat gain in wind, wet or ice, with contents weighed, and with contents unknown. No source. */
    private static final double WEIGHED_SHARE = 0.25;

    private static final double UNWEIGHED_SHARE = 0.6;

    private final Cylinder cylinder;
    private long at;
    private boolean begun;
    private double kelvin = Double.NaN;
    private double ambientK = Double.NaN;
    private boolean weighed;

    public LiquidTemperature(Cylinder cylinder) {
        this.cylinder = cylinder;
    }

    /**
     * Goes on to {@code atMicros} under a draw.
     *
     * @param drawKgPerS since the last call, kg/s; NaN counts as none
     * @param contentsKg gas in the cylinder, kg; NaN when not weighed, then half of the capacity is taken
     * @param roomK temperature of the air, K; a NaN or one outside {@link VapourPressure#TEMPERATURE_K} is passed over
     */
    public void advance(long atMicros, double drawKgPerS, double contentsKg, double roomK) {
        if (VapourPressure.TEMPERATURE_K.contains(roomK)) {
            ambientK = roomK;
        }
        if (Double.isNaN(ambientK)) {
            return;
        }
        weighed = contentsKg >= 0;
        if (!begun) {
            begun = true;
            at = atMicros;
            kelvin = ambientK;
            return;
        }
        double seconds = Math.max(0, (atMicros - at) / MICROS_PER_S);
        at = Math.max(at, atMicros);
        double heldKg = weighed ? contentsKg : cylinder.capacityKg() / 2;
        double steelKg = cylinder.tareKg() > 0 ? cylinder.tareKg() : USUAL_STEEL_SHARE * cylinder.capacityKg();
        double capacityJPerK = LIQUID_J_PER_KG_K * heldKg + STEEL_J_PER_KG_K * steelKg;
        double gainWPerK = cylinder.heatGainWPerK(heldKg);
        double boilingW = drawKgPerS > 0 ? drawKgPerS * VapourPressure.latentHeatJPerKg(cylinder.fuel(), kelvin) : 0;
        double towardsK = ambientK - boilingW / gainWPerK;
        kelvin += (towardsK - kelvin) * -Math.expm1(-seconds * gainWPerK / capacityJPerK);
        kelvin = Math.max(VapourPressure.TEMPERATURE_K.low(), Math.min(VapourPressure.TEMPERATURE_K.high(), kelvin));
    }

    /** Temperature of the liquid, K; NaN before the first call with a room temperature. */
    public double kelvin() {
        return kelvin;
    }

    /** Standard uncertainty of it, K; NaN as above. */
    public double standardUncertaintyK() {
        double chillK = ambientK - kelvin;
        return Math.hypot(ROOM_UNCERTAINTY_K, (weighed ? WEIGHED_SHARE : UNWEIGHED_SHARE) * chillK);
    }
}
