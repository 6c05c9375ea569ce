package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.burn.BurnTracker;
import org.bankfire.analysis.flutter.FlutterWatch;

/**
 * The alarm that the mixture flutters: pressure or chamber temperature swing clearly more than was usual since lighting,
 * or since a setting or the pressure was changed.
 */
final class MixtureFlutter implements ConditionWords {
    /** Flutter that is never remarkable: a step of a common transducer's converter, Pa; a quarter kelvin's code. */
    private static final double PRESSURE_FLOOR_PA = 100;

    private static final double TEMPERATURE_FLOOR_K = 0.15;
    /** After lighting a burner needs this to warm its mixing tube, µs. Common practice, no source. */
    private static final long AFTER_LIGHTING = 60_000_000;
    /** Change of the mean pressure after which another flutter is usual. Common practice, no source. */
    private static final double OTHER_PRESSURE = 0.15;

    private static final double MEAN_S = 10;
    private static final double MICROS_PER_S = 1e6;

    private final BurnTracker burns;
    private final Alarm alarm;
    private final FlutterWatch pressure = new FlutterWatch(PRESSURE_FLOOR_PA);
    private final FlutterWatch chamber = new FlutterWatch(TEMPERATURE_FLOOR_K);
    private boolean burning;
    private long from;
    private long gasAt;
    private double meanPa = Double.NaN;
    private double learntAtPa = Double.NaN;

    MixtureFlutter(BurnTracker burns, Alarm alarm) {
        this.burns = burns;
        this.alarm = alarm;
    }

    /** A setting has changed: something else is usual now. */
    void settingChanged() {
        pressure.learn();
        chamber.learn();
        learntAtPa = Double.NaN;
    }

    void gas(long now, long at, double pascal) {
        if (follow(now, at)) {
            double seconds = Math.max(0, (at - gasAt) / MICROS_PER_S);
            gasAt = at;
            meanPa = Double.isNaN(meanPa) ? pascal : meanPa + (pascal - meanPa) * -Math.expm1(-seconds / MEAN_S);
            if (Double.isNaN(learntAtPa)) {
                learntAtPa = meanPa;
            } else if (Math.abs(meanPa - learntAtPa) > OTHER_PRESSURE * Math.abs(learntAtPa)) {
                settingChanged();
                learntAtPa = meanPa;
            }
            pressure.add(at, pascal);
        }
        judge(now);
    }

    void chamber(long now, long at, double celsius) {
        if (follow(now, at)) {
            chamber.add(at, celsius);
        }
        judge(now);
    }

    /** Flutter of the pressure over the pressure, 1; NaN when it cannot be told. */
    double pressureIndex() {
        return meanPa > 0 ? pressure.index() / meanPa : Double.NaN;
    }

    /** What is usual, 1. */
    double pressureBaseline() {
        return meanPa > 0 ? pressure.baseline() / meanPa : Double.NaN;
    }

    /** Flutter of the chamber temperature, K; NaN when it cannot be told. */
    double temperatureIndexK() {
        return chamber.index();
    }

    /** What is usual, K. */
    double temperatureBaselineK() {
        return chamber.baseline();
    }

    @Override
    public String raised(double value) {
        boolean ofPressure = pressure.isUnsteady();
        String what = ofPressure
                ? String.format(
                        Locale.ROOT,
                        "The gas pressure flutters by %.1f %% of itself, against %.1f %%",
                        100 * pressureIndex(),
                        100 * pressureBaseline())
                : String.format(
                        Locale.ROOT,
                        "The chamber temperature flutters by %.2f K, against %.2f K",
                        chamber.index(),
                        chamber.baseline());
        return what
                + String.format(
                        Locale.ROOT,
                        " that are usual with these settings (%.1f times; root mean square of a minute)",
                        value)
                + ". Listen to the flame; look at jet and choke, and at the regulator for ice.";
    }

    @Override
    public String cleared(double value) {
        return burns.isBurning()
                ? "The flame is as steady as is usual, or its settings have changed."
                : "It burns no more.";
    }

    /** Whether it has burned long enough to be judged. */
    private boolean follow(long now, long at) {
        boolean before = burning;
        burning = burns.isBurning();
        if (burning && !before) {
            from = now + AFTER_LIGHTING;
            meanPa = Double.NaN;
            settingChanged();
        }
        return burning && at >= from;
    }

    private void judge(long now) {
        boolean flutters = burning && (pressure.isUnsteady() || chamber.isUnsteady());
        double ratio =
                Math.max(ratio(pressure.index(), pressure.baseline()), ratio(chamber.index(), chamber.baseline()));
        if (flutters || alarm.conditionHolds()) {
            alarm.condition(flutters, now, ratio);
        }
    }

    private static double ratio(double index, double baseline) {
        return index / baseline >= 0 ? index / baseline : 0;
    }
}
