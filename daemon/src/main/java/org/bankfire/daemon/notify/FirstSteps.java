package org.bankfire.daemon.notify;

import org.bankfire.analysis.alarm.AlarmId;

/** What to do first, alarm by alarm, for a person who may not stand at the forge. */
final class FirstSteps {
    private FirstSteps() {}

    static String of(AlarmId alarm) {
        return switch (alarm) {
            case FLAME_OUT -> "Close the gas at the cylinder. Let the chamber air out. Only then relight.";
            case NO_IGNITION -> "Close the gas at the cylinder. Let the chamber air out. Only then try again.";
            case GAS_LEFT_ON ->
                "Close the gas at the cylinder. Air the room; no sparks, no switches. Only then look for the cause.";
            case CHAMBER_OVER_LIMIT -> "Turn the gas down or close it. Let the lining cool before you go on.";
            case CHAMBER_HIGH -> "Turn the gas down.";
            case SHELL_HIGH -> "Turn the gas down. Look for a crack or a thin place in the lining.";
            case FIRST_FIRE_RATE -> "Turn the gas down: a new lining must dry slowly.";
            case GAS_PRESSURE_HIGH -> "Turn the regulator down. If it does not follow, close the cylinder.";
            case GAS_FALLING -> "The cylinder is cold or nearly empty: have another ready.";
            case MIXTURE_FLUTTER -> "Listen to the flame; look at choke and jet.";
            case CHAMBER_SENSOR_BAD -> "Watch the flame yourself. Check the thermocouple and its screws.";
            case PRESSURE_SENSOR_BAD -> "Watch the flame yourself. Check the transducer and its plug.";
            case NO_DATA ->
                "Somebody must watch the flame: the instrument is blind. Check the sensor board's cable, supply and"
                        + " network.";
            case WATCH_LOST -> "Somebody must watch the flame: nothing else does. Restart the daemon.";
            case WIRE_OVER_TEMPERATURE -> "Plan to replace the thermocouple.";
            case LINING_LOSS_UP -> "Look for a crack or a sag in the lining when it is cold.";
            case STORE_FAILING -> "Readings may not be kept: look at the disk of the daemon's machine.";
            case DISK_NEARLY_FULL -> "Make room on the disk of the daemon's machine.";
            case DATABASE_UNREACHABLE ->
                "All is kept on the daemon's disk: bring the database back, or see why it refuses lines.";
            case CLOCK_STEPPED -> "Check the clock of the daemon's machine.";
        };
    }
}
