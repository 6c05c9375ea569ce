package org.bankfire.dashboard.source;

import java.util.List;
import org.bankfire.analysis.alarm.AlarmAction;

/** What a user may ask of the daemon. Unknown forges are refused with {@link IllegalArgumentException}. */
public interface ForgeControls {
    /**
     * Acknowledges one alarm, shelves it or takes it off the shelf, takes it out of service or puts it back.
     *
     * @return false when that does not apply as the alarm stands
     * @throws IllegalArgumentException when it may not be shelved for so long as it stands; the message says how long
     */
    boolean act(String forge, AlarmAction action);

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
