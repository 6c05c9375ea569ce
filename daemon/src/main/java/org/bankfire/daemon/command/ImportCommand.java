package org.bankfire.daemon.command;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.RecordedOutput;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Recorded burns into the store. */
@Command(
        name = "import",
        description =
                "Takes recorded readings, notes and settings into the store as they are, and the burns found in them. "
                        + "Raw readings without their corrected ones are corrected. What is there already stays.")
public final class ImportCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @Parameters(arity = "1..*", paramLabel = "FILE", description = "NDJSON or CSV, plain or gzip-compressed.")
    private List<Path> files = List.of();

    @Override
    public Integer call() throws ConfigException, IOException, StoreException {
        BankfireConfig resolved = config.read();
        try (ReadingStore store = Stores.open(resolved)) {
            // What was an alarm then is not one now: only burns are looked for.
            RecordedOutput output = new RecordedOutput(new EventWriter(Writer.nullWriter()), store, false);
            RecordedRun run =
                    new RecordedRun(resolved.forges(), output, warning -> System.err.println("warning: " + warning));
            long problems = RecordedFiles.feed(files, run);
            ServerDrain.drain(store, resolved.store().path());
            return problems == 0 ? ExitCodes.DONE : ExitCodes.FAILED;
        }
    }
}
