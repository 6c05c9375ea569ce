package org.bankfire.analysis.monitor;

import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.reading.Setting;

/** Hears what a {@link ForgeMonitor} finds, in event-time order, on the thread that feeds the monitor. */
public interface ForgeListener {
    /** An alarm went into another state. */
    void onAlarm(AlarmTransition transition);

    /** A burn began a stage. */
    void onBurnBoundary(BurnBoundary boundary);

    /** A burn began, ended, or its totals moved on; at most once in ten seconds of event time while it burns. */
    void onBurn(Burn burn);

    /** The stream of readings was disturbed. */
    void onSource(SourceEvent event);

    /** The monitor has counted something that must outlive a restart: it is to be kept and given back as a setting. */
    void onSetting(Setting setting);
}
