package org.bankfire.analysis.monitor;

import java.util.Map;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmDelays;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.reading.Setting;

/**
 * The conditions that need more than one reading, or more than one burn, to be judged: gas falling, mixture fluttering, the
 * first firing, a predicted shell and the thermocouple's hours.
 */
final class Conditions {
    /**
     * Gas falling has its four minutes in its judgement, flutter its one; the others are as slow as a lining. Common
     * practice, no source.
     */
    static final Map<AlarmId, AlarmDelays> DELAYS = Map.of(
            AlarmId.GAS_FALLING, new AlarmDelays(0, 10),
            AlarmId.MIXTURE_FLUTTER, new AlarmDelays(30, 60),
            AlarmId.FIRST_FIRE_RATE, new AlarmDelays(10, 60),
            AlarmId.WIRE_OVER_TEMPERATURE, new AlarmDelays(10, 60));

    private final GasFall gasFall;
    private final MixtureFlutter flutter;
    private final FirstFire firstFire;
    private final PredictedShell shell;
    private final WireWatch wire;

    Conditions(ForgeDescription forge, MonitorSettings settings, MonitorParts parts, ForgeListener listener) {
        ConditionSettings told = settings.conditions();
        AlarmBoard board = parts.alarms.board();
        KeptSettings kept = new KeptSettings(forge.id(), parts.clock, listener);
        gasFall = new GasFall(forge, told, parts.gas, board.get(AlarmId.GAS_FALLING));
        flutter = new MixtureFlutter(parts.burns.tracker(), board.get(AlarmId.MIXTURE_FLUTTER));
        firstFire = new FirstFire(told.firstFiring(), parts.trend, kept, board.get(AlarmId.FIRST_FIRE_RATE));
        shell = new PredictedShell(forge, settings, board.get(AlarmId.SHELL_HIGH));
        wire = new WireWatch(
                told.wireLimitC(),
                settings.temperatureDeadbandK(),
                parts.burns.tracker(),
                kept,
                board.get(AlarmId.WIRE_OVER_TEMPERATURE));
        parts.alarms.tellBy(AlarmId.GAS_FALLING, gasFall);
        parts.alarms.tellBy(AlarmId.MIXTURE_FLUTTER, flutter);
        parts.alarms.tellBy(AlarmId.FIRST_FIRE_RATE, firstFire);
        parts.alarms.tellBy(AlarmId.SHELL_HIGH, shell);
        parts.alarms.tellBy(AlarmId.WIRE_OVER_TEMPERATURE, wire);
    }

    /** A good chamber temperature, which trend and burns have taken. */
    void chamber(long now, long at, double celsius) {
        flutter.chamber(now, at, celsius);
        firstFire.chamber(now, at, celsius);
        shell.chamber(now, at, celsius);
        wire.chamber(now, at, celsius);
    }

    /** A good gas pressure, which gas and burns have taken. */
    void gas(long now, long at, double pascal) {
        gasFall.gas(now, at, pascal);
        flutter.gas(now, at, pascal);
    }

    /** A good temperature of the shell. */
    void shell(long now) {
        shell.measured(now);
    }

    /** A good temperature of the surroundings. */
    void ambient(double celsius) {
        gasFall.ambient(celsius);
        shell.ambient(celsius);
    }

    /** A good temperature of the gas before the jet. */
    void gasTemperature(long at, double celsius) {
        gasFall.gasTemperature(at, celsius);
    }

    /** A good weight of the cylinder. */
    void cylinder(long at, double massKg) {
        gasFall.cylinder(at, massKg);
    }

    /** A setting; what the monitor keeps for itself, and what is only marked, changes nothing of the burner. */
    void accept(Setting setting) {
        firstFire.accept(setting);
        wire.accept(setting);
        boolean ofTheBurner = !setting.name().equals(FirstFire.STEPS_SETTING)
                && !setting.name().equals(WireWatch.HOURS_SETTING)
                && !setting.name().equals(EntryRules.LOWEST_STABLE)
                && !setting.name().equals(EntryRules.HIGHEST_STABLE)
                && !setting.name().startsWith(EntryRules.POSSIBLE);
        if (ofTheBurner) {
            flutter.settingChanged();
        }
    }

    ForgeConditions snapshot() {
        return new ForgeConditions(
                gasFall.left(),
                gasFall.levelPa(),
                flutter.pressureIndex(),
                flutter.pressureBaseline(),
                flutter.temperatureIndexK(),
                flutter.temperatureBaselineK(),
                firstFire.step(),
                firstFire.heldS(),
                shell.celsius(),
                shell.standardUncertaintyK(),
                wire.hours(),
                wire.limitC());
    }
}
