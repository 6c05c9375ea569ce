package org.bankfire.daemon.config;

import java.util.List;
import org.bankfire.analysis.correction.ChannelCalibration;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.monitor.MonitorSettings;

/**
 * One forge: {@code [[forge]]}.
 *
 * @param description of what it is built
 * @param monitor limits and times that are watched
 * @param channels calibrations; a channel has one sensor and one pair of points at most
 * @param currency of the gas price, an ISO 4217 code; empty when no price is told
 * @param throat what closes the burner's throat; the description's burner has the free part
 */
public record ForgeConfig(
        ForgeDescription description,
        MonitorSettings monitor,
        List<ChannelCalibration> channels,
        String currency,
        ThroatConfig throat) {
    public ForgeConfig {
        channels = List.copyOf(channels);
    }

    /** The forge's id. */
    public String id() {
        return description.id();
    }
}
