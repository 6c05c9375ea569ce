package org.bankfire.daemon.command;

import java.nio.file.Path;
import java.util.List;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.CheckedConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ConfigReader;
import picocli.CommandLine.Option;

/** The option that most commands share. */
final class ConfigOption {
    @Option(names = "--config", required = true, paramLabel = "FILE", description = "Configuration file (TOML).")
    Path file = Path.of("bankfire.toml");

    /** Reads it and tells its warnings on standard error. */
    BankfireConfig read() throws ConfigException {
        return read(List.of());
    }

    /** The same with some of its keys set anew, each {@code KEY=VALUE}. */
    BankfireConfig read(List<String> settings) throws ConfigException {
        CheckedConfig checked = ConfigReader.read(file, settings);
        checked.warnings().forEach(warning -> System.err.println("warning: " + warning.text()));
        return checked.config();
    }
}
