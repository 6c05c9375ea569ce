package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.AlarmId;

/** Puts the reasons of alarms into words: what is measured, what it is measured against, and what to do first. */
final class AlarmWords {
    private final MonitorSettings settings;

    AlarmWords(MonitorSettings settings) {
        this.settings = settings;
    }

    /**
     * Why an alarm is raised.
     *
     * @param value the value that decided, in the reader's unit
     * @param detail what only the monitor knows, a whole sentence; may be empty
     */
    String raised(AlarmId alarm, double value, String detail) {
        return switch (alarm) {
            case FLAME_OUT ->
                join(
                        "The flame is out and gas still flows; the chamber was at " + celsius(value)
                                + ". Close the gas at the cylinder, let the chamber air out, only then relight.",
                        detail);
            case NO_IGNITION ->
                join(
                        format("Gas has flowed for %.0f s and nothing has begun to heat", value)
                                + ". Close the gas at the cylinder, let the chamber air out, only then try again.",
                        detail);
            case GAS_LEFT_ON ->
                join(
                        format("Gas flows unburnt at %s", bar(value))
                                + ". Close the gas at the cylinder, keep flames and switches away and let the room air out:"
                                + " propane gathers at the floor.",
                        detail);
            case CHAMBER_OVER_LIMIT ->
                "The chamber is at " + celsius(value) + ", above the " + celsius(settings.chamberLimitC())
                        + " that the lining can take. Turn the gas down now.";
            case CHAMBER_HIGH ->
                "The chamber is at " + celsius(value) + ", above the working limit of "
                        + celsius(settings.chamberHighC()) + ".";
            case SHELL_HIGH ->
                "The shell is at " + celsius(value) + ", above its limit of " + celsius(settings.shellLimitC())
                        + ". Turn down and look for a crack or a gap in the lining.";
            case GAS_PRESSURE_HIGH ->
                "The gas is at " + bar(value) + ", above the " + bar(settings.gasLimitPa())
                        + " that regulator and hose are made for. Turn the regulator down; if it does not follow, close the"
                        + " cylinder.";
            case NO_DATA -> join(format("Nothing has been heard for %.1f s", value) + ".", detail);
            case CLOCK_STEPPED -> join(format("A clock was set by %+.1f s", value) + ".", detail);
            default -> detail.isEmpty() ? alarm.title() + "." : detail;
        };
    }

    /** Why it has cleared. */
    String cleared(AlarmId alarm, double value, String detail) {
        return switch (alarm) {
            case FLAME_OUT, NO_IGNITION, GAS_LEFT_ON -> detail;
            case CHAMBER_OVER_LIMIT, CHAMBER_HIGH -> "The chamber is back at " + celsius(value) + ".";
            case SHELL_HIGH -> "The shell is back at " + celsius(value) + ".";
            case GAS_PRESSURE_HIGH -> "The gas is back at " + bar(value) + ".";
            case CHAMBER_SENSOR_BAD -> "The chamber sensor reads well again.";
            case PRESSURE_SENSOR_BAD -> "The pressure sensor reads well again.";
            case NO_DATA -> "Readings come in again.";
            case WATCH_LOST -> "The forge is watched again.";
            default -> detail.isEmpty() ? "It has gone." : detail;
        };
    }

    private static String join(String first, String second) {
        return second.isEmpty() ? first : first + " " + second;
    }

    private static String celsius(double value) {
        return Double.isNaN(value) ? "an unknown temperature" : format("%.0f °C", value);
    }

    private static String bar(double pascal) {
        return format("%.2f bar", pascal / 1e5);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
