package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.burn.TemperatureTrend;
import org.bankfire.analysis.lining.FirstFiring;
import org.bankfire.analysis.lining.FirstFiringWatch;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * The alarm that a new lining is fired faster than its schedule allows. The schedule is in force from its first mention in
 * the configuration until its last step is done; the setting {@code setting-lining} begins it anew ({@code new}) or ends it
 * ({@code fired}). Steps that are done are kept as the setting {@code setting-first-fire}, so that they outlive a restart.
 */
final class FirstFire implements ConditionWords {
    /** {@code new} for a lining to be fired for the first time, {@code fired} for one that has been. */
    static final String LINING_SETTING = Setting.PREFIX + "lining";
    /** Number of steps that are done. */
    static final String STEPS_SETTING = Setting.PREFIX + "first-fire";

    private static final double S_PER_H = 3600;
    private static final double MIN_PER_H = 60;

    private final FirstFiring schedule;
    private final FirstFiringWatch watch;
    private final TemperatureTrend trend;
    private final KeptSettings kept;
    private final Alarm alarm;
    private @Nullable WallTime toldAt;
    private double chamberC = Double.NaN;

    FirstFire(FirstFiring schedule, TemperatureTrend trend, KeptSettings kept, Alarm alarm) {
        this.schedule = schedule;
        this.watch = new FirstFiringWatch(schedule);
        this.trend = trend;
        this.kept = kept;
        this.alarm = alarm;
    }

    /** Takes up what is said of the lining; of two sayings the later holds, in whatever order they come. */
    void accept(Setting setting) {
        WallTime before = toldAt;
        boolean lining = setting.name().equals(LINING_SETTING);
        if (!lining && !setting.name().equals(STEPS_SETTING)) {
            return;
        }
        if (before != null && before.isAfter(setting.time())) {
            return;
        }
        int done;
        if (lining) {
            done = setting.value().equals("new")
                    ? 0
                    : setting.value().equals("fired") ? schedule.steps().size() : -1;
        } else {
            double number = Numbers.of(setting.value());
            done = number >= 0 && number <= FirstFiring.MOST_STEPS ? (int) number : -1;
        }
        if (done < 0) {
            return;
        }
        toldAt = setting.time();
        if (lining || done != watch.stepsDone()) {
            watch.begin(done);
        }
    }

    /** A good chamber temperature, which {@link TemperatureTrend} has taken. */
    void chamber(long now, long at, double celsius) {
        if (!watch.isDone()) {
            chamberC = celsius;
            if (watch.chamber(at, celsius, trend.rateKPerMin(), trend.standardErrorKPerMin())) {
                toldAt = kept.tell(now, STEPS_SETTING, Integer.toString(watch.stepsDone()));
            }
        } else if (!alarm.conditionHolds()) {
            return;
        }
        FirstFiringWatch.Verdict verdict = watch.verdict();
        double value = verdict == FirstFiringWatch.Verdict.TOO_FAST ? trend.rateKPerMin() : celsius;
        alarm.condition(verdict != FirstFiringWatch.Verdict.INSIDE, now, value);
    }

    /** The step in progress, from 1; 0 when none is watched. */
    int step() {
        return watch.isDone() ? 0 : watch.stepsDone() + 1;
    }

    /** How long its temperature has been held, s; NaN when none is watched. */
    double heldS() {
        return watch.isDone() ? Double.NaN : watch.heldS();
    }

    @Override
    public @Nullable String raised(double value) {
        if (watch.isDone()) {
            return null;
        }
        FirstFiring.Step step = watch.step();
        String hold = step.holdS() > 0
                ? format(", then hold %.0f °C for %.1f h", step.toC(), (step.holdS() - watch.heldS()) / S_PER_H)
                : "";
        if (watch.verdict() == FirstFiringWatch.Verdict.HOLD_LEFT) {
            return format(
                    "The chamber is at %.0f °C and has left the hold at %.0f °C of step %d of the first firing after %.1f h of"
                            + " %.1f h. Turn the gas down, or off, until it is back at %.0f °C.",
                    chamberC,
                    step.toC(),
                    watch.stepsDone() + 1,
                    watch.heldS() / S_PER_H,
                    step.holdS() / S_PER_H,
                    step.toC());
        }
        double rate = trend.rateKPerMin();
        return format(
                        "The chamber rises by %.0f ± %.0f K/h; step %d of the first firing allows %.0f K/h up to %.0f °C."
                                + " Steam that cannot get out breaks a new lining.",
                        rate * MIN_PER_H,
                        2 * trend.standardErrorKPerMin() * MIN_PER_H,
                        watch.stepsDone() + 1,
                        S_PER_H * step.riseKPerS(),
                        step.toC())
                + format(
                        " Turn the gas down to %.0f K/h, or burn in short spells%s.", S_PER_H * step.riseKPerS(), hold);
    }

    @Override
    public String cleared(double value) {
        return watch.isDone() ? "The first firing is done." : "The first firing is back inside its schedule.";
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
