package org.bankfire.daemon.command;

import java.io.IOException;
import org.bankfire.daemon.config.ConfigException;
import picocli.CommandLine;
import picocli.CommandLine.IExecutionExceptionHandler;

/** What went wrong, in words on standard error and as an exit code; a stack trace only for a fault of the program. */
public final class CommandLineErrors implements IExecutionExceptionHandler {
    @Override
    public int handleExecutionException(
            Exception failure, CommandLine commandLine, CommandLine.ParseResult parseResult) {
        if (failure instanceof ConfigException) {
            System.err.println(failure.getMessage());
            return ExitCodes.USAGE;
        }
        if (failure instanceof RuntimeException) {
            failure.printStackTrace();
        } else if (failure instanceof IOException) {
            System.err.println(failure.getClass().getSimpleName() + ": " + failure.getMessage());
        } else {
            System.err.println(failure.getMessage());
        }
        return ExitCodes.FAILED;
    }
}
