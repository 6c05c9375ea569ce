package org.bankfire.daemon.command;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import javax.xml.stream.XMLStreamException;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Bar;
import org.bankfire.analysis.prediction.CarryOver;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.PredictionRequest;
import org.bankfire.analysis.prediction.Predictor;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.Dimension;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.KnownForges;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.report.PredictionChart;
import org.bankfire.daemon.report.PredictionCsv;
import org.bankfire.daemon.report.PredictionJson;
import org.bankfire.daemon.report.PredictionText;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** What a forge is expected to do. */
@Command(
        name = "predict",
        description = {
            "Predicts heat-up, steady state, idle pressure and gas of a forge from its description.",
            "",
            "In words unless told otherwise."
        })
public final class PredictCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @Option(
            names = "--set",
            paramLabel = "KEY=VALUE",
            description = "What if: a key of the forge, dotted, as in burner.jet=\"1.0 mm\"; may be repeated.")
    private List<String> settings = List.of();

    @Option(
            names = "--fitted",
            description =
                    "From the newest fit of a burn in the configured store: what it told is kept for what --set leaves as"
                            + " it was. Its members make the band.")
    private boolean fitted;

    @Option(names = "--forge", paramLabel = "ID", description = "Which forge, where there are several.")
    private @Nullable String forge;

    @Option(
            names = "--programme",
            paramLabel = "FILE",
            description = "Gas pressure over time: CSV with the header tS,gasPa (default: burner.heat-up-pressure).")
    private @Nullable Path programme;

    @Option(names = "--duration", paramLabel = "TIME", description = "How long (default: 4 h).")
    private String duration = "4 h";

    @Option(
            names = "--members",
            paramLabel = "N",
            description = "Forges that make the band: 0 for no band, or 20 to 2000 (default: 128).")
    private int members = PredictionRequest.DEFAULT_MEMBERS;

    @ArgGroup
    private Form form = new Form();

    @ArgGroup(exclusive = false)
    private @Nullable BarOptions bar;

    @Spec
    private @Nullable CommandSpec spec;

    /** How the answer is written. */
    static final class Form {
        @Option(names = "--json", description = "As JSON.")
        boolean json;

        @Option(names = "--csv", description = "The curve as CSV.")
        boolean csv;

        @Option(names = "--svg", description = "As a chart.")
        boolean svg;
    }

    /** A bar that is put in. */
    static final class BarOptions {
        @Option(names = "--bar", required = true, paramLabel = "DIAMETER", description = "A round bar of steel.")
        String diameter = "";

        @Option(names = "--bar-length", paramLabel = "LENGTH", description = "Of it inside (default: 150 mm).")
        String length = "150 mm";

        @Option(names = "--bar-in", paramLabel = "TIME", description = "When it is put in (default: 0 s).")
        String in = "0 s";
    }

    @Override
    public Integer call() throws ConfigException, IOException, StoreException, XMLStreamException {
        ForgeConfig chosen = chosen(config.read(settings).forges());
        ForgeDescription description = chosen.description();
        PredictionRequest request = request(description);
        Prediction prediction =
                fitted ? Predictor.predict(fitted(description), request) : Predictor.predict(description, request);
        Writer out = new BufferedWriter(new OutputStreamWriter(System.out, StandardCharsets.UTF_8));
        if (form.json) {
            PredictionJson.write(description, prediction, out);
        } else if (form.csv) {
            PredictionCsv.write(prediction, out);
        } else if (form.svg) {
            PredictionChart.write(description, prediction, out);
        } else {
            out.write(
                    PredictionText.of(description, prediction, chosen.monitor().gasPricePerKg(), chosen.currency()));
        }
        out.flush();
        return ExitCodes.DONE;
    }

    /** What the newest fit told of the forge as configured, carried over to what is asked for. */
    private KnownForge fitted(ForgeDescription changed) throws ConfigException, StoreException {
        BankfireConfig asBuilt = ConfigReader.read(config.file).config();
        ForgeDescription built = chosen(asBuilt.forges()).description();
        try (ReadingStore store = Stores.openReadOnly(asBuilt)) {
            KnownForge known = KnownForges.newest(store, built)
                    .orElseThrow(() ->
                            usage("--fitted: the store " + asBuilt.store().path() + " holds no fit of \"" + built.id()
                                    + "\" that tells of the forge; a burn is fitted by itself when it has ended"));
            CarryOver over = CarryOver.of(known, changed);
            for (CarryOver.Learnt learnt : over.learnt()) {
                if (learnt.fate() != CarryOver.Fate.KEPT) {
                    System.err.println(learnt.name() + ": " + learnt.fate().words() + " (" + learnt.why() + ")");
                }
            }
            return over.forge();
        }
    }

    private PredictionRequest request(ForgeDescription description) throws IOException {
        GasProgramme gas = programme(description);
        double durationS =
                quantity("--duration", duration, Dimension.DURATION, PredictionRequest.DURATION_S, "240 min");
        BarOptions stock = bar;
        Bar steel = null;
        double inS = 0;
        if (stock != null) {
            steel = new Bar(
                    quantity("--bar", stock.diameter, Dimension.LENGTH, Bar.DIAMETER_M, "16 mm"),
                    quantity("--bar-length", stock.length, Dimension.LENGTH, Bar.LENGTH_M, "150 mm"));
            inS = quantity("--bar-in", stock.in, Dimension.DURATION, new Range(0, durationS - 1), "10 min");
        }
        try {
            return new PredictionRequest(gas, durationS, true, members, steel, inS);
        } catch (IllegalArgumentException bad) {
            throw usage(String.valueOf(bad.getMessage()));
        }
    }

    private GasProgramme programme(ForgeDescription description) throws IOException {
        Path file = programme;
        if (file == null) {
            return GasProgramme.constant(description.burner().heatUpPressurePa());
        }
        try {
            return ProgrammeFile.read(file);
        } catch (ProgrammeFile.BadProgrammeException bad) {
            throw usage(String.valueOf(bad.getMessage()));
        }
    }

    private ForgeConfig chosen(List<ForgeConfig> forges) {
        String wanted = forge;
        if (wanted == null && forges.size() == 1) {
            return forges.get(0);
        }
        List<String> ids = forges.stream().map(ForgeConfig::id).toList();
        return forges.stream()
                .filter(each -> each.id().equals(wanted))
                .findFirst()
                .orElseThrow(() -> usage((wanted == null ? "--forge is missing" : "--forge \"" + wanted + "\"")
                        + ": one of " + String.join(", ", ids)));
    }

    private double quantity(String option, String text, Dimension dimension, Range range, String example) {
        String allowed = option + " \"" + text + "\": allowed is " + dimension.allowed(range, example);
        try {
            double value = dimension.parse(text).si();
            if (range.contains(value)) {
                return value;
            }
        } catch (IllegalArgumentException bad) {
            throw usage(allowed);
        }
        throw usage(allowed);
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
