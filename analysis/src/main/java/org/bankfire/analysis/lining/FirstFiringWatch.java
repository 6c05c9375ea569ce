package org.bankfire.analysis.lining;

/**
 * Holds a chamber temperature against a {@link FirstFiring}.
 *
 * <p>Rise: a ceiling goes up at the allowed rise, and is never more than {@link #LEAD_K} above the chamber. A chamber above
 * the ceiling that rises clearly faster than allowed, by twice the slope's standard error, is too fast. So short spells of
 * flame are no fault, a step on the regulator is, and noise is none. It is inside again when its slope is, or when it is
 * {@link #DEADBAND_K} below the ceiling; what it has gained by then is not counted again.
 *
 * <p>Hold: time counts while the chamber is no more than {@link #HOLD_BAND_K} below the step's temperature. A chamber
 * further than that above it, before the time is full, has left the hold early; falling below only stops the count, since
 * nothing is driven out too fast. When the time is full the next step begins. What was fired in earlier steps may be passed
 * at any speed when the forge is lit again.
 *
 * <p>Times are µs of one line of event time; lead, band and deadband are common practice, no source.
 */
public final class FirstFiringWatch {
    /** How far the chamber may run ahead of the allowed rise, K. */
    public static final double LEAD_K = 25;
    /** How far from its temperature a hold is still held, K. */
    public static final double HOLD_BAND_K = 15;
    /** By how much it must be back inside, K. */
    public static final double DEADBAND_K = 5;

    /** Longest time between two readings that is taken for time at the temperature of the second, s. */
    private static final double LONGEST_GAP_S = 60;

    private static final double MICROS_PER_S = 1e6;
    private static final double S_PER_MIN = 60;

    private final FirstFiring schedule;
    private int step;
    private double heldS;
    private double ceilingC = Double.NaN;
    private long at;
    private Verdict verdict = Verdict.INSIDE;

    /** What is wrong. */
    public enum Verdict {
        /** Nothing. */
        INSIDE,
        /** It rises faster than the step allows. */
        TOO_FAST,
        /** It is above the step's temperature and the hold is not full. */
        HOLD_LEFT
    }

    public FirstFiringWatch(FirstFiring schedule) {
        this.schedule = schedule;
    }

    /** Begins again, with so many steps done, as for a new lining (0) or after a restart. */
    public void begin(int stepsDone) {
        step = Math.max(0, Math.min(stepsDone, schedule.steps().size()));
        heldS = 0;
        ceilingC = Double.NaN;
        verdict = Verdict.INSIDE;
    }

    /** Whether nothing is left to be watched. */
    public boolean isDone() {
        return step >= schedule.steps().size();
    }

    /** Steps that are done. */
    public int stepsDone() {
        return step;
    }

    /** The step in progress; not to be asked for when it {@link #isDone}. */
    public FirstFiring.Step step() {
        return schedule.steps().get(step);
    }

    /** How long the step's temperature has been held, s. */
    public double heldS() {
        return heldS;
    }

    public Verdict verdict() {
        return verdict;
    }

    /**
     * A good chamber temperature with its slope.
     *
     * @param rateKPerMin K/min; NaN where it is not known
     * @param standardErrorKPerMin of it, K/min
     * @return whether a step was finished by it
     */
    public boolean chamber(long atMicros, double celsius, double rateKPerMin, double standardErrorKPerMin) {
        if (isDone()) {
            return false;
        }
        double seconds = Math.max(0, (atMicros - at) / MICROS_PER_S);
        at = atMicros;
        FirstFiring.Step now = step();
        double firedC = step == 0
                ? Double.NEGATIVE_INFINITY
                : schedule.steps().get(step - 1).toC();
        if (Double.isNaN(ceilingC)) {
            ceilingC = Math.max(celsius, firedC) + LEAD_K;
            return false;
        }
        double counted = Math.min(seconds, LONGEST_GAP_S);
        ceilingC = Math.min(ceilingC + now.riseKPerS() * counted, Math.max(celsius, firedC) + LEAD_K);
        if (celsius >= now.toC() - HOLD_BAND_K) {
            heldS += counted;
            if (heldS >= now.holdS() && celsius >= now.toC() - DEADBAND_K) {
                step++;
                heldS = 0;
                verdict = Verdict.INSIDE;
                ceilingC = Math.max(ceilingC, celsius + DEADBAND_K);
                return true;
            }
        }
        judge(now, celsius, rateKPerMin, standardErrorKPerMin);
        return false;
    }

    private void judge(FirstFiring.Step now, double celsius, double rate, double error) {
        double aboveK = celsius - now.toC() - (verdict == Verdict.HOLD_LEFT ? HOLD_BAND_K - DEADBAND_K : HOLD_BAND_K);
        if (aboveK > 0) {
            verdict = Verdict.HOLD_LEFT;
            return;
        }
        double allowed = now.riseKPerS() * S_PER_MIN;
        boolean before = verdict == Verdict.TOO_FAST;
        boolean fast = before
                ? rate - error > allowed && celsius > ceilingC - DEADBAND_K
                : rate - 2 * error > allowed && celsius > ceilingC;
        if (before && !fast) {
            ceilingC = Math.max(ceilingC, celsius + DEADBAND_K);
        }
        verdict = fast ? Verdict.TOO_FAST : Verdict.INSIDE;
    }
}
