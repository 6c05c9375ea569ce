package org.bankfire.daemon;

import picocli.CommandLine;
import picocli.CommandLine.Command;

/** Entry point: the command line. */
@Command(
        name = "bankfire",
        description = "Instrument, log book and alarm for a gas forge.",
        mixinStandardHelpOptions = true)
public final class Main {
    private Main() {}

    public static void main(String[] args) {
        System.exit(new CommandLine(new Main()).execute(args));
    }
}
