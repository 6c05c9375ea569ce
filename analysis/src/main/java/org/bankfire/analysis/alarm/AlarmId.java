package org.bankfire.analysis.alarm;

import java.util.Locale;
import java.util.Optional;

/** The alarms that Bankfire knows. Their codes are part of the contract with scripts and never renamed. */
public enum AlarmId {
    FLAME_OUT("Flame out", Priority.CRITICAL, true),
    NO_IGNITION("No ignition", Priority.CRITICAL, true),
    GAS_LEFT_ON("Gas left on", Priority.CRITICAL, false),
    CHAMBER_OVER_LIMIT("Chamber over limit", Priority.CRITICAL, false),
    CHAMBER_HIGH("Chamber high", Priority.HIGH, false),
    SHELL_HIGH("Shell high", Priority.HIGH, false),
    FIRST_FIRE_RATE("First-fire rate", Priority.MEDIUM, false),
    GAS_PRESSURE_HIGH("Gas pressure high", Priority.HIGH, false),
    GAS_FALLING("Gas falling", Priority.MEDIUM, false),
    MIXTURE_FLUTTER("Mixture fluttering", Priority.LOW, false),
    CHAMBER_SENSOR_BAD("Chamber sensor bad", Priority.HIGH, false),
    PRESSURE_SENSOR_BAD("Pressure sensor bad", Priority.HIGH, false),
    NO_DATA("No data", Priority.HIGH, false),
    WATCH_LOST("Watch lost", Priority.CRITICAL, false),
    WIRE_OVER_TEMPERATURE("Wire over temperature", Priority.LOW, false),
    LINING_LOSS_UP("Lining loss up", Priority.LOW, false),
    STORE_FAILING("Store failing", Priority.HIGH, false),
    DISK_NEARLY_FULL("Disk nearly full", Priority.MEDIUM, false),
    DATABASE_UNREACHABLE("Database unreachable", Priority.MEDIUM, false),
    CLOCK_STEPPED("Clock stepped", Priority.MEDIUM, false);

    private final String title;
    private final Priority usualPriority;
    private final boolean latched;

    AlarmId(String title, Priority usualPriority, boolean latched) {
        this.title = title;
        this.usualPriority = usualPriority;
        this.latched = latched;
    }

    /** Stable name for store, wire and events, such as {@code flame-out}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Name for the reader. */
    public String title() {
        return title;
    }

    /** Priority unless the state of the forge makes it graver. */
    public Priority usualPriority() {
        return usualPriority;
    }

    /** Whether it stays raised after its cause has gone, until it is acknowledged. */
    public boolean latched() {
        return latched;
    }

    public static Optional<AlarmId> ofCode(String code) {
        for (AlarmId id : values()) {
            if (id.code().equals(code)) {
                return Optional.of(id);
            }
        }
        return Optional.empty();
    }
}
