package org.bankfire.analysis.monitor;

import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/** What the monitor itself has found out and must outlive a restart, told as settings. */
final class KeptSettings {
    private final String forge;
    private final EventClock clock;
    private final ForgeListener listener;

    KeptSettings(String forge, EventClock clock, ForgeListener listener) {
        this.forge = forge;
        this.clock = clock;
        this.listener = listener;
    }

    /**
     * Tells a setting, a microsecond after the reading that it follows from: in a replay it then comes after that reading,
     * and says what the monitor knows already.
     *
     * @return from when it holds
     */
    WallTime tell(long now, String name, String value) {
        WallTime time = clock.wall(now + 1);
        listener.onSetting(new Setting(forge, time, name, value, ""));
        return time;
    }
}
