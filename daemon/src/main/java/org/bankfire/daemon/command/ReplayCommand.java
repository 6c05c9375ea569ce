package org.bankfire.daemon.command;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
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
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Recorded readings through the pipeline. */
@Command(
        name = "replay",
        description =
                "Feeds recorded readings through the same pipeline as live ones, in event time, as fast as it goes; "
                        + "writes alarm transitions and burn boundaries as NDJSON.")
public final class ReplayCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @Parameters(arity = "1..*", paramLabel = "FILE", description = "NDJSON or CSV, plain or gzip-compressed.")
    private List<Path> files = List.of();

    @Option(names = "--events", paramLabel = "OUT", description = "File for the events (default: standard output).")
    private @Nullable Path events;

    @Option(names = "--into-store", description = "Keep readings, alarms and burns in the configured store.")
    private boolean intoStore;

    @Override
    public Integer call() throws ConfigException, IOException, StoreException {
        BankfireConfig resolved = config.read();
        try (Writer out = eventsOut();
                ReadingStore store = intoStore ? Stores.open(resolved) : null) {
            RecordedOutput output = new RecordedOutput(new EventWriter(out), store, true);
            RecordedRun run =
                    new RecordedRun(resolved.forges(), output, warning -> System.err.println("warning: " + warning));
            long problems = RecordedFiles.feed(files, run);
            if (store != null) {
                ServerDrain.drain(store, resolved.store().path());
            }
            return problems == 0 ? ExitCodes.DONE : ExitCodes.FAILED;
        }
    }

    private Writer eventsOut() throws IOException {
        Path file = events;
        return file != null
                ? Files.newBufferedWriter(file, StandardCharsets.UTF_8)
                : new BufferedWriter(new OutputStreamWriter(System.out, StandardCharsets.UTF_8));
    }
}
