package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.burn.BurnTracker;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.thermocouple.WireHours;
import org.jspecify.annotations.Nullable;

/**
 * The alarm that the chamber thermocouple is hotter than is suggested for its wire, with the hours that it has been. They
 * are kept as the setting {@code setting-wire-hours} after a burn and every half hour of it, and begin anew with the
 * setting {@code setting-thermocouple}, whatever it says.
 */
final class WireWatch implements ConditionWords {
    /** Says that another thermocouple has been put in. */
    static final String THERMOCOUPLE_SETTING = Setting.PREFIX + "thermocouple";
    /** Hours above the limit so far, h. */
    static final String HOURS_SETTING = Setting.PREFIX + "wire-hours";

    /** A crash loses no more than this, s; more often would fill the log book. */
    private static final double KEEP_EVERY_S = 1_800;

    private static final double S_PER_H = 3600;

    private final WireHours hours;
    private final double deadbandK;
    private final BurnTracker burns;
    private final KeptSettings kept;
    private final Alarm alarm;
    private double keptS;
    private @Nullable WallTime toldAt;

    WireWatch(double limitC, double deadbandK, BurnTracker burns, KeptSettings kept, Alarm alarm) {
        this.hours = new WireHours(limitC);
        this.deadbandK = deadbandK;
        this.burns = burns;
        this.kept = kept;
        this.alarm = alarm;
    }

    /** Takes up what is said of the thermocouple; of two sayings the later holds, in whatever order they come. */
    void accept(Setting setting) {
        WallTime before = toldAt;
        boolean another = setting.name().equals(THERMOCOUPLE_SETTING);
        if (!another && !setting.name().equals(HOURS_SETTING)) {
            return;
        }
        if (before != null && before.isAfter(setting.time())) {
            return;
        }
        double toldS = another ? 0 : Numbers.of(setting.value()) * S_PER_H;
        if (toldS >= 0) {
            toldAt = setting.time();
            hours.setSeconds(toldS);
            keptS = hours.seconds();
        }
    }

    /** A good chamber temperature. */
    void chamber(long now, long at, double celsius) {
        if (Double.isNaN(hours.limitC())) {
            return;
        }
        hours.add(at, celsius);
        double untoldS = hours.seconds() - keptS;
        if (untoldS >= KEEP_EVERY_S || (untoldS > 0 && !burns.isBurning() && celsius <= hours.limitC())) {
            keptS = hours.seconds();
            toldAt = kept.tell(now, HOURS_SETTING, Double.toString(hours.hours()));
        }
        boolean holds = celsius > hours.limitC() || (alarm.conditionHolds() && celsius >= hours.limitC() - deadbandK);
        alarm.condition(holds, now, celsius);
    }

    double hours() {
        return Double.isNaN(hours.limitC()) ? Double.NaN : hours.hours();
    }

    double limitC() {
        return hours.limitC();
    }

    @Override
    public String raised(double value) {
        return String.format(
                Locale.ROOT,
                "The chamber thermocouple is at %.0f °C, above the %.0f °C suggested for its wire or sheath; so far %.1f h"
                        + " above, over all burns. Its reading drifts with every hour: check it against another, and take a"
                        + " thicker one for this heat.",
                value,
                hours.limitC(),
                hours.hours());
    }

    @Override
    public String cleared(double value) {
        return String.format(
                Locale.ROOT,
                "The chamber thermocouple is back at %.0f °C; %.1f h above %.0f °C, over all burns.",
                value,
                hours.hours(),
                hours.limitC());
    }
}
