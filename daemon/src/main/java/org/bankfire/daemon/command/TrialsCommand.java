package org.bankfire.daemon.command;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.report.TrialCsv;
import org.bankfire.daemon.report.TrialJson;
import org.bankfire.daemon.report.TrialText;
import org.bankfire.daemon.report.burn.WrittenReport;
import org.bankfire.daemon.report.series.SeriesReport;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.trials.RecordedTrials;
import org.bankfire.daemon.trials.StoredTrialBurns;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.TrialBook.Asked;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** What changes of the settings changed. */
@Command(
        name = "trials",
        description = {
            "Compares burns under different settings: what changed beyond what burns differ by anyway, and what to try next.",
            "",
            "Burns are cut where a setting changes: jet, jet-position, choke, obstruction, lining, plug. From recorded FILEs,"
                    + " each burn is fitted, a second or so each; with --forge the stored burns with their fits."
        })
public final class TrialsCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @Parameters(arity = "0..*", paramLabel = "FILE", description = "NDJSON or CSV, plain or gzip-compressed.")
    private List<Path> files = List.of();

    @Option(names = "--forge", paramLabel = "ID", description = "Stored burns of this forge, the newest 50.")
    private @Nullable String forge;

    @Option(names = "--from", paramLabel = "T", description = "Stored burns from then on; ISO 8601 with zone.")
    private @Nullable String from;

    @Option(names = "--to", paramLabel = "T", description = "Stored burns before then; ISO 8601 with zone.")
    private @Nullable String to;

    @Option(names = "--json", description = "As JSON, one object a forge and line.")
    private boolean json;

    @Option(names = "--csv", description = "As CSV, a row a figure.")
    private boolean csv;

    @Option(
            names = "--out",
            paramLabel = "FILE.pdf|FILE.html",
            description = "As a report with charts, of one forge's burns; the ending says what is written.")
    private @Nullable Path out;

    @Mixin
    private PaperOptions paper = new PaperOptions();

    @Spec
    private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws ConfigException, IOException, StoreException {
        if (files.isEmpty() == (forge == null)) {
            throw usage("which burns: FILE… or --forge ID, one of both");
        }
        if (forge == null && (from != null || to != null)) {
            throw usage("--from and --to choose stored burns: they go with --forge");
        }
        if ((json ? 1 : 0) + (csv ? 1 : 0) + (out != null ? 1 : 0) > 1) {
            throw usage("--json, --csv or --out, one of them at most");
        }
        if (out != null) {
            paper.format(out);
            paper.reader();
        }
        WallTime first = time("--from", from, new WallTime(0));
        WallTime last = time("--to", to, new WallTime(Long.MAX_VALUE));
        if (!first.isBefore(last)) {
            throw usage("--from \"" + from + "\": allowed is a time before --to, \"" + to + "\"");
        }
        BankfireConfig resolved = config.read();
        List<TrialSeries> told = new ArrayList<>();
        boolean complete = true;
        if (forge != null) {
            told.add(stored(resolved, new Asked(List.of(), first, last)));
        } else {
            complete = recorded(resolved, told);
        }
        told.removeIf(series -> series.trials().isEmpty());
        if (told.isEmpty()) {
            System.err.println("nothing to compare: no burn with good chamber readings was found");
            return ExitCodes.FAILED;
        }
        write(told);
        return complete ? ExitCodes.DONE : ExitCodes.FAILED;
    }

    /** Adds the series of each forge in the files; whether every line could be read. */
    private boolean recorded(BankfireConfig resolved, List<TrialSeries> told) throws IOException, StoreException {
        RecordedTrials trials = new RecordedTrials(
                resolved.forges(),
                RecordedFiles.corrections(files),
                burn -> BurnFit.fit(burn.forge(), burn.record(), BurnFit.USUAL_LOSS_AT_K));
        RecordedRun run =
                new RecordedRun(resolved.forges(), trials, warning -> System.err.println("warning: " + warning));
        boolean complete = RecordedFiles.feed(files, run) == 0;
        for (ForgeConfig each : resolved.forges()) {
            if (!trials.burns(each.id()).isEmpty()) {
                told.add(TrialSeries.of(each.description(), trials.burns(each.id()), trials.inForce(each.id())));
            }
        }
        return complete;
    }

    private TrialSeries stored(BankfireConfig resolved, Asked asked) throws StoreException {
        String wanted = String.valueOf(forge);
        ForgeConfig owner = resolved.forges().stream()
                .filter(each -> each.id().equals(wanted))
                .findFirst()
                .orElseThrow(() -> usage("--forge \"" + wanted + "\": one of "
                        + resolved.forges().stream().map(ForgeConfig::id).collect(Collectors.joining(", "))));
        try (ReadingStore store = Stores.openReadOnly(resolved)) {
            return new StoredTrialBurns(store).series(owner.description(), asked);
        }
    }

    private void write(List<TrialSeries> told) throws IOException {
        Path file = out;
        if (file != null) {
            report(told, file);
            return;
        }
        Writer results = new BufferedWriter(new OutputStreamWriter(System.out, StandardCharsets.UTF_8));
        for (TrialSeries series : told) {
            results.write(json ? TrialJson.of(series) + "\n" : csv ? TrialCsv.of(series) : TrialText.of(series));
        }
        results.flush();
    }

    private void report(List<TrialSeries> told, Path file) throws IOException {
        if (told.size() > 1) {
            throw usage("--out \"" + file + "\": a report is of one forge; the files hold burns of "
                    + told.stream().map(series -> series.forge().id()).collect(Collectors.joining(", ")));
        }
        WallTime now = WallTime.of(Instant.now());
        Reader reader = paper.reader();
        PaperOptions.save(
                WrittenReport.of(
                        new SeriesReport(told.get(0)).content(reader, now), paper.format(file), reader.paper(), now),
                file);
    }

    private WallTime time(String option, @Nullable String text, WallTime usual) {
        if (text == null) {
            return usual;
        }
        try {
            return WallTime.of(OffsetDateTime.parse(text).toInstant());
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
