package org.bankfire.daemon.config;

import java.util.List;

/**
 * Everything that the configuration file says, with defaults filled in.
 *
 * @param dashboard where the page is served
 * @param store where readings are kept
 * @param sources where readings come from, in the order of the file
 * @param forges at least one, each with an id of its own
 */
public record BankfireConfig(
        DashboardConfig dashboard, StoreConfig store, List<SourceConfig> sources, List<ForgeConfig> forges) {
    public BankfireConfig {
        sources = List.copyOf(sources);
        forges = List.copyOf(forges);
    }
}
