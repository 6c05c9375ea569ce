package org.bankfire.daemon.report.burn;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.replay.RecordedBurnReader;
import org.bankfire.daemon.acquire.replay.RecordingProblem;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.PackWriter;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.bridge.StoredSeries;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.GatheredBurn;
import org.bankfire.daemon.fitting.RecordedBurns;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.RecordedOutput;
import org.bankfire.daemon.ledger.RecordedRun;
import org.bankfire.daemon.report.FitJson;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ReportBook.Paper;
import org.bankfire.dashboard.source.ReportBook.Pressure;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.ReportBook.Temperature;

/** An hour of the virtual forge in a store, as the pipeline puts it there: one burn from 10:00:30 UTC, off after 40 min. */
public final class RecordedBook implements AutoCloseable {
    public static final Reader READER = new Reader(Temperature.C, Pressure.BAR, ZoneId.of("Europe/Oslo"), Paper.A4);
    /** 2026-03-01T10:00:00Z. */
    public static final WallTime T0 = WallTime.ofEpochSeconds(1_772_359_200);

    public static final WallTime NOW = T0.plusSeconds(86_400);
    private static final int OFF_S = 2_400;
    private static final int END_S = 3_600;

    private final Path folder;
    private final ForgeConfig forge;
    private final ReadingStore store;

    private RecordedBook(Path folder, ForgeConfig forge) throws Exception {
        this.folder = folder;
        this.forge = forge;
        this.store = SqliteStore.open(folder.resolve("book.db"));
    }

    /** What is in the record. */
    public static final class Maker {
        private final Map<Integer, Map<String, String>> hands = new LinkedHashMap<>();
        private String price = "gas-price = \"3.20 EUR/kg\"\n";
        private boolean pressure = true;
        private int endS = END_S;
        private String name = "Shed forge";

        /** What hands did or wrote at a second. */
        public Maker hands(int second, String record, String text) {
            hands.computeIfAbsent(second, s -> new LinkedHashMap<>())
                    .put(record, new String(JsonStringEncoder.getInstance().quoteAsString(text)));
            return this;
        }

        public Maker withoutPrice() {
            price = "";
            return this;
        }

        /** No pressure sensor, so the flame is known by the temperature alone. */
        public Maker withoutPressure() {
            pressure = false;
            return this;
        }

        /** The record ends at that second. */
        public Maker until(int second) {
            endS = second;
            return this;
        }

        public Maker named(String forgeName) {
            name = forgeName;
            return this;
        }

        /** Runs the forge and takes its record into a store in {@code folder}. */
        public RecordedBook in(Path folder) throws Exception {
            RecordedBook book = new RecordedBook(folder, config(price, name));
            book.take(Files.write(folder.resolve("record.ndjson"), lines()));
            return book;
        }

        private List<String> lines() {
            VirtualForge forge = new VirtualForge(5);
            PackWriter writer = new PackWriter("shed");
            List<String> lines = new ArrayList<>();
            for (int s = 0; s < endS; s++) {
                if (s == 30) {
                    forge.setPressure(VirtualForge.FULL_PA);
                    forge.openGas();
                    forge.light();
                } else if (s == 1_800) {
                    forge.setPressure(VirtualForge.IDLE_PA);
                } else if (s == OFF_S) {
                    forge.closeGas();
                }
                forge.step(1);
                Observation seen = forge.observe();
                byte[] line = writer.write(seen, s, T0.epochSeconds() + s, hands.getOrDefault(s, Map.of()));
                String text = new String(line, StandardCharsets.UTF_8);
                lines.add(pressure ? text : text.replaceAll(",\\{\"n\":\"gas\"[^}]*\\}", ""));
            }
            return lines;
        }
    }

    private static ForgeConfig config(String price, String name) throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        String text = Files.readString(example)
                .replace("firebrick-23", "firebrick-26")
                .replace("name = \"Shed forge\"\n", "name = \"" + name + "\"\n" + price);
        return ConfigReader.read(text, "shed.toml", Path.of("."))
                .config()
                .forges()
                .get(0);
    }

    private void take(Path file) throws Exception {
        RecordedOutput output = new RecordedOutput(new EventWriter(Writer.nullWriter()), store, true);
        RecordedRun run = new RecordedRun(List.of(forge), output, warning -> {});
        try (RecordedBurnReader reader =
                RecordedBurnReader.open(List.of(file), problem -> RecordingProblem.Answer.STOP)) {
            for (Pack pack = reader.next(); pack != null; pack = reader.next()) {
                run.accept(pack);
            }
        }
        run.finish();
    }

    public ReadingStore store() {
        return store;
    }

    public ForgeConfig forge() {
        return forge;
    }

    /** The only burn. */
    public Burn burn() throws Exception {
        return store.burns("shed", 2).get(0);
    }

    /** Its fit, from the readings alone. */
    public String fit() throws Exception {
        List<GatheredBurn> found = new ArrayList<>();
        RecordedBurns burns = new RecordedBurns(List.of(forge), List.of(), found::add);
        RecordedRun run = new RecordedRun(List.of(forge), burns, warning -> {});
        try (RecordedBurnReader reader = RecordedBurnReader.open(
                List.of(folder.resolve("record.ndjson")), problem -> RecordingProblem.Answer.STOP)) {
            for (Pack pack = reader.next(); pack != null; pack = reader.next()) {
                run.accept(pack);
            }
        }
        run.finish();
        GatheredBurn burn = found.get(0);
        StringWriter text = new StringWriter();
        try {
            FitJson.write(
                    "shed",
                    burn.start().toInstant(),
                    burn.end().toInstant(),
                    BurnFit.fit(burn.forge(), burn.record(), BurnFit.USUAL_LOSS_AT_K),
                    text);
        } catch (IOException failure) {
            throw new AssertionError(failure);
        }
        return text.toString();
    }

    /** The report of the burn with that fit; without one where it is empty. */
    public BurnReport report(Optional<String> fit) throws Exception {
        return report(fit, NOW);
    }

    /** The same at another time of day. */
    public BurnReport report(Optional<String> fit, WallTime now) throws Exception {
        return report(burn(), fit, now);
    }

    /** The report of a burn that the store need not know. */
    public BurnReport report(Burn burn, Optional<String> fit, WallTime now) throws Exception {
        ForgeFace face = new ForgeFace(forge.description(), forge.monitor(), forge.currency());
        return new BurnFiler(store, new StoredSeries(store), List.of(face), id -> fit)
                .report(burn, now)
                .orElseThrow();
    }

    /** The whole record as one burn. */
    public Burn whole() {
        return new Burn(Burn.idOf("shed", T0), "shed", T0, T0.plusSeconds(END_S), Double.NaN, Double.NaN);
    }

    @Override
    public void close() throws StoreException {
        store.close();
    }
}
