package org.bankfire.daemon.config;

import java.util.List;

/**
 * A configuration that can be used.
 *
 * @param config it
 * @param warnings what is probably not meant, in the order of the file
 */
public record CheckedConfig(BankfireConfig config, List<ConfigProblem> warnings) {
    public CheckedConfig {
        warnings = List.copyOf(warnings);
    }
}
