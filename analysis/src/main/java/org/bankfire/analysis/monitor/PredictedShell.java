package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ShellFollower;
import org.jspecify.annotations.Nullable;

/**
 * The shell alarm of a forge without a sensor there, or with one that has gone silent. It is raised when the prediction
 * less its standard uncertainty is above the limit, that is when five to one speak for it: whoever has no sensor cannot
 * look at once, and an alarm that is wrong every other time is soon shelved.
 */
final class PredictedShell implements ConditionWords {
    /** A measured shell counts for this long, µs. */
    private static final long MEASURED = 60_000_000;

    private static final double CELSIUS_ZERO_K = 273.15;

    private final MonitorSettings settings;
    private final Alarm alarm;
    private final ShellFollower follower;
    private double ambientC;
    private long measuredAt = Long.MIN_VALUE / 2;
    private boolean predicted;

    PredictedShell(ForgeDescription forge, MonitorSettings settings, Alarm alarm) {
        this.settings = settings;
        this.alarm = alarm;
        this.follower = new ShellFollower(forge);
        ambientC = forge.ambientK() - CELSIUS_ZERO_K;
    }

    void ambient(double celsius) {
        ambientC = celsius;
    }

    /** A good shell temperature was measured. */
    void measured(long now) {
        measuredAt = now;
        predicted = false;
    }

    /** A good chamber temperature. */
    void chamber(long now, long at, double celsius) {
        if (!follower.chamber(at, celsius, ambientC) || now - measuredAt <= MEASURED) {
            return;
        }
        predicted = true;
        double lowC = follower.shellC() - follower.standardUncertaintyK();
        double limitC = settings.shellLimitC() - (alarm.conditionHolds() ? settings.temperatureDeadbandK() : 0);
        alarm.condition(lowC > limitC, now, follower.shellC());
    }

    double celsius() {
        return follower.shellC();
    }

    double standardUncertaintyK() {
        return follower.standardUncertaintyK();
    }

    @Override
    public @Nullable String raised(double value) {
        if (!predicted) {
            return null;
        }
        return String.format(
                Locale.ROOT,
                "The shell is predicted at %.0f °C, likely %.0f to %.0f °C: there is no sensor on it, this follows from the"
                        + " chamber temperature and the lining as described. Its limit is %.0f °C. Turn down, and measure the"
                        + " shell.",
                value,
                value - follower.standardUncertaintyK(),
                value + follower.standardUncertaintyK(),
                settings.shellLimitC());
    }

    @Override
    public @Nullable String cleared(double value) {
        return predicted ? String.format(Locale.ROOT, "The shell is predicted back at %.0f °C.", value) : null;
    }
}
