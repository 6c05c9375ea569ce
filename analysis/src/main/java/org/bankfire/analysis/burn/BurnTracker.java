package org.bankfire.analysis.burn;

import java.util.Locale;
import org.bankfire.analysis.steady.Steadiness;
import org.bankfire.analysis.steady.SteadyTest;

/**
 * Follows one forge through the phases of its burns: cold, lighting, heating, steady, idling, cooling.
 *
 * <p>Times are microseconds of one continuous line of event time. Whether the chamber is steady is {@link SteadyTest}'s to
 * say; here it counts while something burns and the chamber is hot, at working pressure as the phase steady, turned down
 * as a forge that idles and is steady. It is told once a stretch. Lighting, the end of a burn and turning down or up begin a
 * new stretch: what was measured before belongs to another regulator. Light block keeps taking heat for hours, so "steady"
 * does not mean that the lining is soaked. Idling: turned down below 60 % of the pressure that this burn has worked at, for
 * 20 s. These thresholds are common practice, no source.
 */
public final class BurnTracker {
    /** Below this a constant temperature is a forge that does not heat, not a steady one. */
    private static final double STEADY_FROM_C = 300;

    private static final double COLD_BELOW_C = 80;
    private static final double HOT_ABOVE_C = 100;
    private static final double IDLE_BELOW = 0.6;
    private static final double WORKING_ABOVE = 0.75;
    private static final long IDLE_DWELL = 20_000_000;
    private static final long LEAVE_IDLE_DWELL = 10_000_000;
    private static final long PROGRESS = 10_000_000;
    private static final long NEVER = Long.MAX_VALUE;

    /** Time constant with which the working pressure follows a rising pressure, s: a blip does not count as working. */
    private static final double WORKING_LAG_S = 10;

    private static final double MICROS_PER_S = 1e6;
    private static final double S_PER_MIN = 60;

    private final BurnListener listener;
    private final GasMeter meter = new GasMeter();
    private final SteadyTest steady;

    private BurnPhase phase = BurnPhase.COLD;
    private boolean burning;
    private long startMicros;
    private long endMicros = NEVER;
    private boolean hasBurn;
    private double peakC = Double.NaN;
    private double lastUsedKg;
    private double chamberC = Double.NaN;

    private double pressurePa = Double.NaN;
    private long pressureAt = NEVER;
    private double workingPa = Double.NaN;
    private long turnedDownSince = NEVER;
    private long turnedUpSince = NEVER;
    private boolean steadyTold;
    private long lastProgress;

    /**
     * A forge that is cold until something is told of it.
     *
     * @param steadyBandKPerMin slopes within ± this are called steady, K/min, above 0
     */
    public BurnTracker(BurnListener listener, double steadyBandKPerMin) {
        this.listener = listener;
        this.steady = new SteadyTest(steadyBandKPerMin);
    }

    /** Gas flows and nobody knows yet whether it burns. */
    public void lighting() {
        if (!burning && phase != BurnPhase.LIGHTING) {
            phase = BurnPhase.LIGHTING;
            meter.reset();
        }
    }

    /**
     * It burns.
     *
     * @param startMicros gas on, of the lighting that succeeded
     */
    public void lit(long atMicros, long startMicros, String why) {
        if (burning) {
            return;
        }
        burning = true;
        hasBurn = true;
        this.startMicros = startMicros;
        endMicros = NEVER;
        peakC = chamberC;
        workingPa = Double.NaN;
        pressureAt = NEVER;
        if (phase != BurnPhase.LIGHTING) {
            meter.reset();
        }
        beginStretch();
        phase = BurnPhase.HEATING;
        lastProgress = atMicros;
        listener.onStage(BurnBoundary.Stage.LIT, atMicros, why);
        listener.onProgress(atMicros);
    }

    /**
     * The flame is out or the gas off.
     *
     * @param endMicros when the burn ended, at or before {@code atMicros}
     */
    public void out(long atMicros, long endMicros, String why) {
        if (!burning) {
            return;
        }
        burning = false;
        beginStretch();
        lastUsedKg = meter.usedKg();
        this.endMicros = Math.max(endMicros, startMicros);
        settle();
        listener.onStage(BurnBoundary.Stage.OUT, atMicros, why);
        listener.onProgress(atMicros);
    }

    /** Nothing burns and no lighting is under way: cold or cooling, by the chamber. */
    public void rest() {
        if (!burning) {
            settle();
        }
    }

    /**
     * A good gas pressure with its flow through the jet.
     *
     * @param measuredMicros when it was measured, which may be before {@code atMicros} when a backlog comes in
     */
    public void gas(long atMicros, long measuredMicros, double gaugePa, double flowKgPerS) {
        if (burning || phase == BurnPhase.LIGHTING) {
            meter.add(measuredMicros, flowKgPerS);
        }
        if (burning) {
            followWorkingPressure(atMicros, gaugePa);
            pressurePa = gaugePa;
            pressureAt = atMicros;
            judgeIdle(atMicros);
            progress(atMicros);
        } else {
            pressureAt = NEVER;
        }
    }

    /**
     * A good chamber temperature.
     *
     * @param measuredMicros when it was measured, which may be before {@code atMicros} when a backlog comes in
     */
    public void chamber(long atMicros, long measuredMicros, double celsius) {
        steady.add(measuredMicros, celsius);
        chamberC = celsius;
        if (burning) {
            if (!(peakC >= celsius)) {
                peakC = celsius;
            }
            judgeSteady(atMicros);
            progress(atMicros);
        } else if (phase == BurnPhase.COLD || phase == BurnPhase.COOLING) {
            settle();
        }
    }

    /** Whether the chamber holds its temperature, burning or not, at a time not before the last reading. */
    public Steadiness steadiness(long nowMicros) {
        return steady.at(nowMicros);
    }

    public BurnPhase phase() {
        return phase;
    }

    /** The burn in progress or the last one exists. */
    public boolean hasBurn() {
        return hasBurn;
    }

    public boolean isBurning() {
        return burning;
    }

    /** Start of the burn in progress or the last one, µs. */
    public long startMicros() {
        return startMicros;
    }

    /** End of the last burn, µs; meaningless while one is in progress. */
    public long endMicros() {
        return endMicros;
    }

    public double gasUsedKg() {
        return burning ? meter.usedKg() : lastUsedKg;
    }

    public double peakC() {
        return peakC;
    }

    private void settle() {
        boolean hot = phase == BurnPhase.COLD ? chamberC > HOT_ABOVE_C : chamberC > COLD_BELOW_C;
        phase = hot ? BurnPhase.COOLING : BurnPhase.COLD;
    }

    private void followWorkingPressure(long at, double gaugePa) {
        if (Double.isNaN(workingPa)) {
            workingPa = gaugePa;
        } else if (gaugePa > workingPa && pressureAt != NEVER) {
            double seconds = Math.min((at - pressureAt) / MICROS_PER_S, WORKING_LAG_S);
            workingPa += (gaugePa - workingPa) * seconds / WORKING_LAG_S;
        }
    }

    private void judgeIdle(long at) {
        if (phase == BurnPhase.IDLING) {
            turnedDownSince = NEVER;
            turnedUpSince = pressurePa > WORKING_ABOVE * workingPa ? Math.min(turnedUpSince, at) : NEVER;
            if (turnedUpSince != NEVER && at - turnedUpSince >= LEAVE_IDLE_DWELL) {
                beginStretch();
                phase = BurnPhase.HEATING;
            }
            return;
        }
        turnedDownSince = pressurePa < IDLE_BELOW * workingPa ? Math.min(turnedDownSince, at) : NEVER;
        if (turnedDownSince != NEVER && at - turnedDownSince >= IDLE_DWELL) {
            beginStretch();
            phase = BurnPhase.IDLING;
            listener.onStage(
                    BurnBoundary.Stage.IDLE,
                    at,
                    String.format(
                            Locale.ROOT,
                            "Turned down to %.2f bar, from the %.2f bar that this burn worked at.",
                            pressurePa / 1e5,
                            workingPa / 1e5));
        }
    }

    private void judgeSteady(long at) {
        if (!steady.isSteady()) {
            steadyTold = false;
            if (phase == BurnPhase.STEADY) {
                phase = BurnPhase.HEATING;
            }
            return;
        }
        if (steadyTold || chamberC < STEADY_FROM_C) {
            return;
        }
        steadyTold = true;
        if (phase == BurnPhase.HEATING) {
            phase = BurnPhase.STEADY;
        }
        Steadiness now = steady.at(at);
        listener.onStage(
                BurnBoundary.Stage.STEADY,
                at,
                String.format(
                        Locale.ROOT,
                        "Chamber at %.0f °C, changing by %+.1f ± %.1f K/min over %.0f min%s: steady within ±%.1f K/min.",
                        chamberC,
                        now.slopeKPerMin(),
                        now.halfWidthKPerMin(),
                        now.windowS() / S_PER_MIN,
                        phase == BurnPhase.IDLING ? ", turned down" : "",
                        now.bandKPerMin()));
    }

    private void beginStretch() {
        turnedDownSince = NEVER;
        turnedUpSince = NEVER;
        steadyTold = false;
        steady.clear();
    }

    private void progress(long at) {
        if (at - lastProgress >= PROGRESS) {
            lastProgress = at;
            listener.onProgress(at);
        }
    }
}
