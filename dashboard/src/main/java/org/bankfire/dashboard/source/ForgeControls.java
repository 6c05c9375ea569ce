package org.bankfire.dashboard.source;

import java.util.List;
import org.bankfire.analysis.alarm.AlarmId;

/** What a user may ask of the daemon. Unknown forges are refused with {@link IllegalArgumentException}. */
public interface ForgeControls {
    /**
     * Acknowledges one alarm.
     *
     * @param by who did it, 1 to 64 characters
     * @return false when that alarm does not call for it
     */
    boolean acknowledge(String forge, AlarmId alarm, String by);

    /**
     * Takes the present output of a channel's transducer as its zero: the hose must be off.
     *
     * @return what was taken and how sure it is, in words; or why it was refused
     */
    String captureZero(String forge, String channel);

    /** Scenario actions of the virtual forge that the demo may trigger; empty unless a virtual forge runs. */
    List<String> demoActions();

    /** Triggers one of {@link #demoActions()}. */
    void demo(String action);
}
