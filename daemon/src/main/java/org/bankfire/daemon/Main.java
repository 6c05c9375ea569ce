package org.bankfire.daemon;

import java.util.List;
import org.bankfire.daemon.command.CheckCommand;
import org.bankfire.daemon.command.CommandLineErrors;
import org.bankfire.daemon.command.DemoCommand;
import org.bankfire.daemon.command.ExportCommand;
import org.bankfire.daemon.command.FitCommand;
import org.bankfire.daemon.command.ImportCommand;
import org.bankfire.daemon.command.PortsCommand;
import org.bankfire.daemon.command.PredictCommand;
import org.bankfire.daemon.command.ReplayCommand;
import org.bankfire.daemon.command.ReportCommand;
import org.bankfire.daemon.command.RunCommand;
import org.bankfire.daemon.command.TrialsCommand;
import org.bankfire.daemon.command.WriteCommand;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ScopeType;

/** Entry point: the command line. */
@Command(
        name = "bankfire",
        description = "Instrument, log book and alarm for a home-built gas forge.",
        mixinStandardHelpOptions = true,
        scope = ScopeType.INHERIT,
        synopsisSubcommandLabel = "COMMAND")
public final class Main {
    private static final List<Class<?>> COMMANDS = List.of(
            DemoCommand.class,
            RunCommand.class,
            CheckCommand.class,
            PortsCommand.class,
            PredictCommand.class,
            FitCommand.class,
            ReportCommand.class,
            TrialsCommand.class,
            ReplayCommand.class,
            ImportCommand.class,
            ExportCommand.class,
            WriteCommand.class);

    private Main() {}

    /** Runs one command and ends the process with its exit code. */
    public static void main(String[] args) {
        System.exit(commandLine(args.length == 0 ? "" : args[0])
                .setCaseInsensitiveEnumValuesAllowed(true)
                .setExecutionExceptionHandler(new CommandLineErrors())
                .execute(args));
    }

    /**
     * The command line, with all commands or the one that is asked for: to take them all apart takes a small computer
     * longer than to open the store, and the daemon should read soon.
     */
    private static CommandLine commandLine(String first) {
        CommandLine whole = new CommandLine(new Main());
        List<Class<?>> named = COMMANDS.stream()
                .filter(command -> command.getAnnotation(Command.class).name().equals(first))
                .toList();
        (named.isEmpty() ? COMMANDS : named).forEach(whole::addSubcommand);
        return whole;
    }
}
