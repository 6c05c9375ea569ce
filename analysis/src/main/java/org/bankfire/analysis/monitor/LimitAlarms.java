package org.bankfire.analysis.monitor;

import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmId;

/** The alarms that a single good value decides, by being above a limit: chamber, shell and gas pressure. */
final class LimitAlarms {
    /** Start value of ISA-18.2 for pressures: 2 % of range. */
    private static final double PRESSURE_DEADBAND = 0.02;

    private final MonitorSettings settings;
    private final Alarm chamberOverLimit;
    private final Alarm chamberHigh;
    private final Alarm shellHigh;
    private final Alarm gasHigh;

    LimitAlarms(MonitorSettings settings, AlarmBoard board) {
        this.settings = settings;
        this.chamberOverLimit = board.get(AlarmId.CHAMBER_OVER_LIMIT);
        this.chamberHigh = board.get(AlarmId.CHAMBER_HIGH);
        this.shellHigh = board.get(AlarmId.SHELL_HIGH);
        this.gasHigh = board.get(AlarmId.GAS_PRESSURE_HIGH);
    }

    void chamber(long now, double celsius) {
        judge(chamberOverLimit, now, celsius, settings.chamberLimitC(), settings.temperatureDeadbandK());
        judge(chamberHigh, now, celsius, settings.chamberHighC(), settings.temperatureDeadbandK());
    }

    void shell(long now, double celsius) {
        judge(shellHigh, now, celsius, settings.shellLimitC(), settings.temperatureDeadbandK());
    }

    void gas(long now, double pascal) {
        judge(gasHigh, now, pascal, settings.gasLimitPa(), PRESSURE_DEADBAND * settings.gasLimitPa());
    }

    private static void judge(Alarm alarm, long now, double value, double limit, double deadband) {
        boolean holds = value > limit || (alarm.conditionHolds() && value >= limit - deadband);
        // While the delay runs the highest value is what raises it: noise may end it just inside the deadband.
        boolean waits = holds && alarm.conditionHolds() && !alarm.isActive();
        alarm.condition(holds, now, waits ? Math.max(value, alarm.latestValue()) : value);
    }
}
