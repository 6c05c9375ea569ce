package org.bankfire.daemon.command;

import java.util.concurrent.Callable;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ConfigPrinter;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** Judges a configuration. */
@Command(name = "check", description = "Reads and judges the configuration; prints the resolved one.")
public final class CheckCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @Override
    public Integer call() throws ConfigException {
        System.out.print(ConfigPrinter.print(config.read()));
        return ExitCodes.DONE;
    }
}
