package org.bankfire.daemon.command;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.bridge.StoredSeries;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.GatheredBurn;
import org.bankfire.daemon.fitting.StoredBurn;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.RecordedOutput;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.report.FitJson;
import org.bankfire.daemon.report.burn.BurnFiler;
import org.bankfire.daemon.report.burn.BurnReport;
import org.bankfire.daemon.report.burn.WrittenReport;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ReportBook.Format;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** A burn on paper. */
@Command(
        name = "report",
        description = {
            "Writes the report of a burn: charts, figures with their intervals, settings, notes, alarms and gas.",
            "",
            "With --burn of the store; from recorded FILEs, which go through the same pipeline as live readings, of the burn"
                    + " in them, or of the one that --burn names. A burn without a stored fit is fitted for its report."
        })
public final class ReportCommand implements Callable<Integer> {
    /** Burns that a refusal names. */
    private static final int NAMED_BURNS = 5;

    @Mixin
    private ConfigOption config = new ConfigOption();

    @Parameters(arity = "0..*", paramLabel = "FILE", description = "NDJSON or CSV, plain or gzip-compressed.")
    private List<Path> files = List.of();

    @Option(names = "--burn", paramLabel = "ID", description = "A burn's id, such as shed-20260301T100012Z.")
    private @Nullable String burn;

    @Option(
            names = "--out",
            required = true,
            paramLabel = "FILE.pdf|FILE.html",
            description = "Where to; the ending says what is written.")
    private Path out = Path.of("report.pdf");

    @Mixin
    private PaperOptions paper = new PaperOptions();

    @Spec
    private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws ConfigException, IOException, StoreException {
        if (files.isEmpty() && burn == null) {
            throw usage("what to report: FILE… or --burn ID");
        }
        Format format = paper.format(out);
        Reader reader = paper.reader();
        BankfireConfig resolved = config.read();
        if (files.isEmpty()) {
            try (ReadingStore store = Stores.openReadOnly(resolved)) {
                write(new Source(store, resolved, false), format, reader);
            }
            return ExitCodes.DONE;
        }
        Path folder = Files.createTempDirectory("bankfire-report");
        try (ReadingStore store = SqliteStore.open(folder.resolve("record.db"))) {
            RecordedOutput output = new RecordedOutput(new EventWriter(Writer.nullWriter()), store, true);
            RecordedRun run =
                    new RecordedRun(resolved.forges(), output, warning -> System.err.println("warning: " + warning));
            boolean complete = RecordedFiles.feed(files, run) == 0;
            return write(new Source(store, resolved, true), format, reader) && complete
                    ? ExitCodes.DONE
                    : ExitCodes.FAILED;
        } finally {
            try (Stream<Path> left = Files.list(folder)) {
                for (Path each : left.toList()) {
                    Files.delete(each);
                }
            }
            Files.delete(folder);
        }
    }

    /** A store, and whether it holds nothing but the record of the files. */
    private record Source(ReadingStore store, BankfireConfig config, boolean recorded) {}

    private boolean write(Source source, Format format, Reader reader) throws StoreException, IOException {
        Burn chosen = chosen(source);
        if (chosen == null) {
            System.err.println("nothing to report: no good chamber readings of "
                    + ids(source.config().forges()) + " in "
                    + files.stream().map(Path::toString).collect(Collectors.joining(", ")));
            return false;
        }
        List<ForgeFace> faces = source.config().forges().stream()
                .map(forge -> new ForgeFace(forge.description(), forge.monitor(), forge.currency()))
                .toList();
        WallTime now = WallTime.of(Instant.now());
        BurnFiler filer =
                new BurnFiler(source.store(), new StoredSeries(source.store()), faces, burnId -> fit(source, chosen));
        BurnReport report = filer.report(chosen, now)
                .orElseThrow(() -> usage("burn \"" + chosen.id() + "\" is of forge \"" + chosen.forge()
                        + "\"; allowed are burns of " + ids(source.config().forges())));
        PaperOptions.save(WrittenReport.of(report.content(reader, now), format, reader.paper(), now), out);
        return true;
    }

    private @Nullable Burn chosen(Source source) throws StoreException {
        String wanted = burn;
        if (wanted != null) {
            Optional<Burn> stored = source.store().burn(wanted);
            if (stored.isEmpty()) {
                throw usage("--burn \"" + wanted + "\": " + (source.recorded() ? "the files have" : "the store has")
                        + " no such burn; " + named(source));
            }
            return stored.get();
        }
        List<Burn> found = burns(source, 2);
        if (found.size() > 1) {
            throw usage("the files hold more than one burn: choose one by --burn; " + named(source));
        }
        return found.isEmpty() ? whole(source) : found.get(0);
    }

    private static List<Burn> burns(Source source, int most) throws StoreException {
        List<Burn> found = new ArrayList<>();
        for (ForgeConfig forge : source.config().forges()) {
            found.addAll(source.store().burns(forge.id(), most));
        }
        return found;
    }

    private static String named(Source source) throws StoreException {
        List<Burn> known = burns(source, NAMED_BURNS);
        return known.isEmpty()
                ? "there is none of " + ids(source.config().forges())
                : "there are " + known.stream().map(Burn::id).collect(Collectors.joining(", "));
    }

    /** A record in which no burn begins, as one burn from its first reading to its last; null without a good reading. */
    private static @Nullable Burn whole(Source source) throws StoreException {
        for (ForgeConfig forge : source.config().forges()) {
            Channel chamber = new Channel(forge.id(), ChannelNames.CHAMBER);
            WallTime[] ends = new WallTime[2];
            source.store().readings(chamber, TimeRange.ALL, reading -> widen(ends, reading));
            WallTime first = ends[0];
            WallTime last = ends[1];
            if (first != null && last != null) {
                return new Burn(Burn.idOf(forge.id(), first), forge.id(), first, last, Double.NaN, Double.NaN);
            }
        }
        return null;
    }

    private static void widen(@Nullable WallTime[] ends, Reading reading) {
        if (!reading.quality().isBad()) {
            ends[0] = ends[0] == null ? reading.sourceTime() : ends[0];
            ends[1] = reading.sourceTime();
        }
    }

    /** The stored fit, or one made now; empty when nothing can be fitted. */
    private static Optional<String> fit(Source source, Burn burn) throws StoreException {
        Optional<String> stored = source.store().fit(burn.id()).map(StoredFit::json);
        if (stored.isPresent()) {
            return stored;
        }
        for (ForgeConfig forge : source.config().forges()) {
            if (forge.id().equals(burn.forge())) {
                Optional<GatheredBurn> gathered = new StoredBurn(source.store(), forge.description(), burn)
                        .gather(step -> {}, StoredBurn.Tap.NONE);
                return gathered.filter(each -> each.record().samples() > 0).map(ReportCommand::json);
            }
        }
        return Optional.empty();
    }

    private static String json(GatheredBurn gathered) {
        BurnFitResult result = BurnFit.fit(gathered.forge(), gathered.record(), BurnFit.USUAL_LOSS_AT_K);
        StringWriter text = new StringWriter();
        try {
            FitJson.write(
                    gathered.forge().id(),
                    gathered.start().toInstant(),
                    gathered.end().toInstant(),
                    result,
                    text);
        } catch (IOException failure) {
            throw new java.io.UncheckedIOException("writing a fit to memory", failure);
        }
        return text.toString();
    }

    private static String ids(List<ForgeConfig> forges) {
        return forges.stream().map(ForgeConfig::id).collect(Collectors.joining(" and "));
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
