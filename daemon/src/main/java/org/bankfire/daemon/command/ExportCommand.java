package org.bankfire.daemon.command;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.concurrent.Callable;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.replay.RecordedBurnWriter;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.export.StoredExport;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Stored readings, notes and settings out of the store. */
@Command(name = "export", description = "Writes stored readings, notes and settings to standard output.")
public final class ExportCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @ArgGroup(multiplicity = "1")
    private Stretch stretch = new Stretch();

    @Option(names = "--format", required = true, paramLabel = "csv|senml", description = "csv or senml.")
    private RecordedBurnWriter.Format format = RecordedBurnWriter.Format.CSV;

    @Spec
    private @Nullable CommandSpec spec;

    /** What to write: a burn, or a stretch of time. */
    static final class Stretch {
        @Option(names = "--burn", paramLabel = "ID", description = "A burn's id, such as shed-20260301T100012Z.")
        @Nullable
        String burn;

        @ArgGroup(exclusive = false)
        @Nullable
        Times times;
    }

    /** A stretch of time over all forges. */
    static final class Times {
        @Option(names = "--from", required = true, paramLabel = "T", description = "ISO 8601 with zone; included.")
        String from = "";

        @Option(names = "--to", required = true, paramLabel = "T", description = "ISO 8601 with zone; excluded.")
        String to = "";
    }

    @Override
    public Integer call() throws ConfigException, IOException, StoreException, InterruptedException {
        BankfireConfig resolved = config.read();
        try (ReadingStore store = Stores.openReadOnly(resolved);
                RecordedBurnWriter out = new RecordedBurnWriter(new FileOutputStream(FileDescriptor.out), format)) {
            Times times = stretch.times;
            if (times != null) {
                TimeRange range = new TimeRange(time("--from", times.from), time("--to", times.to));
                StoredExport.write(store, store.forges(), range, out);
            } else {
                StoredExport.write(store, burn(store), out);
            }
        }
        return ExitCodes.DONE;
    }

    private Burn burn(ReadingStore store) throws StoreException {
        String id = String.valueOf(stretch.burn);
        return store.burn(id).orElseThrow(() -> usage("--burn \"" + id + "\": the store has no such burn"));
    }

    private WallTime time(String option, String text) {
        try {
            return WallTime.of(Instant.parse(text));
        } catch (DateTimeException bad) {
            throw usage(option + " \"" + text + "\": allowed is ISO 8601 with a zone, such as 2026-03-01T10:00:00Z");
        }
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
