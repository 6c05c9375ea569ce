package org.bankfire.daemon.config;

import java.util.List;

/**
 * Everything that the configuration file says, with defaults filled in.
 *
 * @param daemon how it works
 * @param dashboard where the page is served
 * @param store where readings are kept
 * @param sources where readings come from, in the order of the file
 * @param outputs where alarms are told beside the page, in the order of the file
 * @param forges at least one, each with an id of its own
 */
public record BankfireConfig(
        DaemonConfig daemon,
        DashboardConfig dashboard,
        StoreConfig store,
        List<SourceConfig> sources,
        List<OutputConfig> outputs,
        List<ForgeConfig> forges) {
    public BankfireConfig {
        sources = List.copyOf(sources);
        outputs = List.copyOf(outputs);
        forges = List.copyOf(forges);
    }
}
