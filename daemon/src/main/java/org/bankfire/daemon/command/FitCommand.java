package org.bankfire.daemon.command;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.Dimension;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.GatheredBurn;
import org.bankfire.daemon.fitting.RecordedBurns;
import org.bankfire.daemon.fitting.StoredBurn;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.report.FitJson;
import org.bankfire.daemon.report.FitText;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** What burns tell of their forge. */
@Command(
        name = "fit",
        description = {
            "Fits burns: what each tells of its forge, with intervals, and what it does not tell.",
            "",
            "From recorded FILEs, through the same pipeline as live readings, every burn found is fitted; with --burn one of "
                    + "the store. A record in which no burn begins is fitted as one burn from its first reading."
        })
public final class FitCommand implements Callable<Integer> {
    /** Stored burns that a refusal names. */
    private static final int NAMED_BURNS = 5;

    @Mixin
    private ConfigOption config = new ConfigOption();

    @Parameters(arity = "0..*", paramLabel = "FILE", description = "NDJSON or CSV, plain or gzip-compressed.")
    private List<Path> files = List.of();

    @Option(names = "--burn", paramLabel = "ID", description = "A stored burn's id, such as shed-20260301T100012Z.")
    private @Nullable String burn;

    @Option(names = "--json", description = "As JSON, one object a line.")
    private boolean json;

    @Option(
            names = "--at",
            paramLabel = "TEMPERATURE",
            description = "Chamber temperature at which the loss coefficient is stated (default: 1000 degC).")
    private String at = "1000 degC";

    @Option(names = "--forge", paramLabel = "ID", description = "Burns of this forge only.")
    private @Nullable String forge;

    @Spec
    private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws ConfigException, IOException, StoreException {
        if (files.isEmpty() == (burn == null)) {
            throw usage("what to fit: FILE… or --burn ID, one of both");
        }
        double lossAtK = lossAtK();
        BankfireConfig resolved = config.read();
        List<ForgeConfig> forges = chosen(resolved.forges());
        Writer out = new BufferedWriter(new OutputStreamWriter(System.out, StandardCharsets.UTF_8));
        Answer answer = new Answer(out, lossAtK);
        boolean complete = true;
        if (burn == null) {
            RecordedBurns burns = new RecordedBurns(forges, RecordedFiles.corrections(files), answer::fit);
            RecordedRun run =
                    new RecordedRun(resolved.forges(), burns, warning -> System.err.println("warning: " + warning));
            complete = RecordedFiles.feed(files, run) == 0;
        } else {
            fitStored(resolved, forges, answer);
        }
        out.flush();
        if (answer.written == 0) {
            System.err.println(
                    burn == null
                            ? "nothing to fit: no good chamber readings of "
                                    + ids(forges, " or ") + " in "
                                    + files.stream().map(Path::toString).collect(Collectors.joining(", "))
                            : "nothing to fit: the store holds no good chamber readings of burn " + burn);
            return ExitCodes.FAILED;
        }
        return complete ? ExitCodes.DONE : ExitCodes.FAILED;
    }

    /** Fits each burn as it is found and writes what it tells. */
    private final class Answer {
        private final Writer out;
        private final double lossAtK;
        private int written;

        Answer(Writer out, double lossAtK) {
            this.out = out;
            this.lossAtK = lossAtK;
        }

        void fit(GatheredBurn gathered) {
            BurnFitResult result = BurnFit.fit(gathered.forge(), gathered.record(), lossAtK);
            try {
                if (json) {
                    FitJson.write(
                            gathered.forge().id(),
                            gathered.start().toInstant(),
                            gathered.end().toInstant(),
                            result,
                            out);
                } else {
                    out.write(written == 0 ? "" : "\n");
                    out.write(FitText.of(gathered.forge(), gathered.start(), gathered.end(), result));
                }
            } catch (IOException failure) {
                throw new UncheckedIOException("the fit cannot be written", failure);
            }
            written++;
        }
    }

    private void fitStored(BankfireConfig resolved, List<ForgeConfig> forges, Answer answer) throws StoreException {
        String id = String.valueOf(burn);
        try (ReadingStore store = Stores.openReadOnly(resolved)) {
            Burn stored = store.burn(id).orElse(null);
            if (stored == null) {
                throw usage("--burn \"" + id + "\": the store has no such burn; " + newest(store, forges));
            }
            ForgeConfig owner = forges.stream()
                    .filter(each -> each.id().equals(stored.forge()))
                    .findFirst()
                    .orElseThrow(() -> usage("--burn \"" + id + "\" is of forge \"" + stored.forge()
                            + "\"; allowed are burns of " + ids(forges, " and ")));
            StoredBurn source = new StoredBurn(store, owner.description(), stored);
            Progress progress = new Progress(StoredBurn.STEPS);
            Optional<GatheredBurn> gathered = source.gather(progress::show, StoredBurn.Tap.NONE);
            progress.end();
            gathered.ifPresent(answer::fit);
        }
    }

    private static String newest(ReadingStore store, List<ForgeConfig> forges) throws StoreException {
        StringBuilder named = new StringBuilder();
        for (ForgeConfig each : forges) {
            for (Burn known : store.burns(each.id(), NAMED_BURNS)) {
                named.append(named.isEmpty() ? "its newest are " : ", ").append(known.id());
            }
        }
        return named.isEmpty() ? "it has none of " + ids(forges, " or ") : named.toString();
    }

    private double lossAtK() {
        try {
            double kelvin = Dimension.TEMPERATURE.parse(at).si();
            if (BurnFit.LOSS_AT_K.contains(kelvin)) {
                return kelvin;
            }
        } catch (IllegalArgumentException bad) {
            throw usage(notAllowed());
        }
        throw usage(notAllowed());
    }

    private String notAllowed() {
        return "--at \"" + at + "\": allowed is " + Dimension.TEMPERATURE.allowed(BurnFit.LOSS_AT_K, "1000 degC");
    }

    private List<ForgeConfig> chosen(List<ForgeConfig> forges) {
        String wanted = forge;
        if (wanted == null) {
            return forges;
        }
        List<ForgeConfig> chosen =
                forges.stream().filter(each -> each.id().equals(wanted)).toList();
        if (chosen.isEmpty()) {
            throw usage("--forge \"" + wanted + "\": one of " + ids(forges, ", "));
        }
        return chosen;
    }

    private static String ids(List<ForgeConfig> forges, String separator) {
        return forges.stream().map(ForgeConfig::id).collect(Collectors.joining(separator));
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
