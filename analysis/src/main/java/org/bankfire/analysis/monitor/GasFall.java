package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Atmosphere;
import org.bankfire.analysis.gas.Cylinder;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.LiquidTemperature;
import org.bankfire.analysis.gas.MinutesLeft;
import org.bankfire.analysis.gas.PressureFall;
import org.bankfire.analysis.gas.SaggingPressure;
import org.bankfire.analysis.gas.VapourPressure;
import org.jspecify.annotations.Nullable;

/** The alarm that the gas pressure sags at a regulator nobody touched, with the time left and the likely cause. */
final class GasFall implements ConditionWords {
    /** Level that the time is told to when the user has marked none: half of the present pressure. */
    private static final double USUAL_LEVEL_SHARE = 0.5;
    /** A cylinder that is not described: the commonest size. It is weighed and felt by nobody, so it explains nothing. */
    private static final double USUAL_CAPACITY_KG = 11;

    private static final double CELSIUS_ZERO_K = 273.15;
    /** A weight or a gas temperature older than this says nothing of now, µs. */
    private static final long FRESH = 60_000_000;

    private static final long LIQUID_STEP = 5_000_000;

    private final GasState gas;
    private final Alarm alarm;
    private final PressureFall fall = new PressureFall();
    private final double markedPa;
    private final double airPa;
    private final @Nullable Cylinder cylinder;
    private final @Nullable LiquidTemperature liquid;
    private double ambientK;
    private double cylinderKg = Double.NaN;
    private long weighedAt = Long.MIN_VALUE / 2;
    private double gasK = Double.NaN;
    private long gasKAt = Long.MIN_VALUE / 2;
    private long liquidDue = Long.MIN_VALUE;
    private long now;

    GasFall(ForgeDescription forge, ConditionSettings settings, GasState gas, Alarm alarm) {
        this.gas = gas;
        this.alarm = alarm;
        markedPa = settings.lowestStablePa();
        airPa = Atmosphere.pressurePa(forge.altitudeM());
        ambientK = forge.ambientK();
        Fuel fuel = forge.burner().fuel();
        Cylinder told = settings.cylinder();
        liquid = told == null ? null : new LiquidTemperature(told);
        cylinder =
                told != null || !VapourPressure.liquefies(fuel) ? told : Cylinder.ofCapacity(fuel, USUAL_CAPACITY_KG);
    }

    void ambient(double celsius) {
        ambientK = celsius + CELSIUS_ZERO_K;
    }

    void gasTemperature(long at, double celsius) {
        gasK = celsius + CELSIUS_ZERO_K;
        gasKAt = at;
    }

    void cylinder(long at, double massKg) {
        cylinderKg = massKg;
        weighedAt = at;
    }

    /** A good pressure has been taken into {@link GasState}. */
    void gas(long nowMicros, long at, double pascal) {
        now = nowMicros;
        LiquidTemperature cooling = liquid;
        if (cooling != null && at >= liquidDue) {
            liquidDue = at + LIQUID_STEP;
            cooling.advance(at, gas.isFlowing() ? gas.flowKgPerS() : 0, contentsKg(), ambientK);
        }
        if (gas.isFlowing()) {
            fall.add(at, pascal);
        } else {
            fall.reset();
        }
        boolean sags = fall.isSagging();
        alarm.condition(sags, nowMicros, sags ? left().best() : Double.NaN);
    }

    /** Time left; unknown while nothing sags. */
    MinutesLeft left() {
        if (!fall.isSagging()) {
            return MinutesLeft.UNKNOWN;
        }
        MinutesLeft left = fall.minutesTo(levelPa());
        SaggingPressure judged = judged();
        boolean empties = judged != null && judged.cause() == SaggingPressure.Cause.EMPTYING_CYLINDER;
        // One that cools falls ever more slowly and may come to rest before.
        return empties || Double.isNaN(left.best())
                ? left
                : new MinutesLeft(left.best(), left.low(), Double.POSITIVE_INFINITY);
    }

    /** What the time is told to, Pa gauge; NaN while nothing sags. */
    double levelPa() {
        if (!fall.isSagging()) {
            return Double.NaN;
        }
        return Double.isNaN(markedPa) ? USUAL_LEVEL_SHARE * fall.nowPa() : markedPa;
    }

    @Override
    public String raised(double value) {
        MinutesLeft left = left();
        String range = Double.isInfinite(left.high())
                ? format(
                        "%.0f at least; a cylinder that cools falls ever more slowly and may come to rest before",
                        left.low())
                : format("%.0f to %.0f", left.low(), left.high());
        String level = Double.isNaN(markedPa)
                ? "half of the present pressure; no lowest stable pressure has been marked"
                : "the lowest pressure that you marked as stable";
        String time = Double.isNaN(left.best())
                ? "How long it lasts cannot be told."
                : format(
                        "About %.0f min are left (%s) until %.2f bar, %s.", left.best(), range, levelPa() / 1e5, level);
        return format(
                        "The gas has sagged from %.2f to %.2f bar at a regulator that nobody touched and falls by %.3f bar"
                                + " a minute. ",
                        fall.setPa() / 1e5, fall.nowPa() / 1e5, fall.fallPaPerMin() / 1e5)
                + time
                + cause();
    }

    @Override
    public String cleared(double value) {
        if (!gas.isFlowing()) {
            return "The gas is off.";
        }
        return format("The gas no longer sags; it is at %.2f bar.", gas.gaugePa() / 1e5);
    }

    private String cause() {
        SaggingPressure judged = judged();
        if (judged == null || judged.explanation().isEmpty()) {
            return "";
        }
        double liquidK = liquidK();
        String figures = Double.isNaN(liquidK)
                ? ""
                : format(
                        " The liquid is reckoned at %.0f ± %.0f °C.",
                        liquidK - CELSIUS_ZERO_K, 2 * liquidUncertaintyK());
        return " " + judged.explanation() + figures + " " + judged.next();
    }

    private @Nullable SaggingPressure judged() {
        Cylinder of = cylinder;
        if (of == null || !(fall.setPa() > 0)) {
            return null;
        }
        return SaggingPressure.judge(new SaggingPressure.Evidence(
                of, fall.setPa(), fall.nowPa(), airPa, liquidK(), liquidUncertaintyK(), contentsKg()));
    }

    private double liquidUncertaintyK() {
        LiquidTemperature cooling = liquid;
        return cooling == null ? Double.NaN : cooling.standardUncertaintyK();
    }

    /** Temperature of the liquid, K; gas that comes colder than it is reckoned says that it is colder yet. */
    private double liquidK() {
        LiquidTemperature cooling = liquid;
        if (cooling == null) {
            return Double.NaN;
        }
        double reckonedK = cooling.kelvin();
        boolean fresh = now - gasKAt <= FRESH && VapourPressure.TEMPERATURE_K.contains(gasK);
        return fresh ? Math.min(reckonedK, gasK) : reckonedK;
    }

    private double contentsKg() {
        Cylinder of = cylinder;
        return of == null || now - weighedAt > FRESH ? Double.NaN : of.contentsKg(cylinderKg);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
