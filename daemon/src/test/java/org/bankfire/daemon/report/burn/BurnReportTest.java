package org.bankfire.daemon.report.burn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.report.document.ReportContent;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Entries;
import org.bankfire.daemon.report.document.ReportContent.Entry;
import org.bankfire.daemon.report.document.ReportContent.Fact;
import org.bankfire.daemon.report.document.ReportContent.Facts;
import org.bankfire.daemon.report.document.ReportContent.Figure;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Section;
import org.bankfire.daemon.report.document.ReportContent.Table;
import org.bankfire.daemon.report.document.TimeChart;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.dashboard.source.ReportBook.Paper;
import org.bankfire.dashboard.source.ReportBook.Pressure;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.ReportBook.Temperature;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the report of a stored burn says, against the fit and the store that it is made of. */
final class BurnReportTest {
    private static final Pattern NUMBER = Pattern.compile("−?\\d+(?:\\.\\d+)?");

    @TempDir
    private static Path folder;

    private static RecordedBook book;
    private static String json;
    private static JsonNode fit;

    @BeforeAll
    static void record() throws Exception {
        book = new RecordedBook.Maker()
                .hands(5, "setting-jet", "0.8")
                .hands(600, "note", "softer roar")
                .hands(900, "stock", "in")
                .hands(1_000, "plug", "out")
                .in(folder);
        json = book.fit();
        fit = new ObjectMapper().readTree(json);
    }

    @AfterAll
    static void close() throws Exception {
        book.close();
    }

    private static ReportContent fitted() throws Exception {
        return book.report(Optional.of(json)).content(RecordedBook.READER, RecordedBook.NOW);
    }

    private static Section section(ReportContent content, String title) {
        return content.sections().stream()
                .filter(each -> each.title().equals(title))
                .findFirst()
                .orElseThrow(() -> new AssertionError(title + " is none of " + content.sections()));
    }

    private static <B extends Block> B block(Section section, Class<B> kind) {
        return section.blocks().stream()
                .filter(kind::isInstance)
                .map(kind::cast)
                .findFirst()
                .orElseThrow(() -> new AssertionError("no " + kind.getSimpleName() + " in " + section));
    }

    private static Fact fact(Section section, String name) {
        return block(section, Facts.class).facts().stream()
                .filter(each -> each.name().startsWith(name))
                .findFirst()
                .orElseThrow(() -> new AssertionError(name + " is not in " + section));
    }

    private static String text(Section section) {
        StringBuilder text = new StringBuilder();
        for (Block block : section.blocks()) {
            if (block instanceof Paragraph paragraph) {
                text.append(paragraph.text());
            } else if (block instanceof Bullets bullets) {
                text.append(bullets.items());
            } else if (block instanceof Facts facts) {
                text.append(facts.facts());
            } else if (block instanceof Entries entries) {
                text.append(entries.entries());
            }
            text.append('\n');
        }
        return text.toString();
    }

    /** The figures of a text, with half a unit of their last digit. */
    private static List<double[]> figures(String text) {
        List<double[]> figures = new ArrayList<>();
        Matcher number = NUMBER.matcher(text);
        while (number.find()) {
            String digits = number.group().replace('−', '-');
            int point = digits.indexOf('.');
            int after = point < 0 ? 0 : digits.length() - point - 1;
            figures.add(new double[] {Double.parseDouble(digits), 0.5 * Math.pow(10, -after) * 1.001});
        }
        return figures;
    }

    private static void assertSays(String text, double... values) {
        List<double[]> figures = figures(text);
        assertThat(figures).as(text).hasSizeGreaterThanOrEqualTo(values.length);
        for (int i = 0; i < values.length; i++) {
            assertThat(figures.get(i)[0]).as(text).isCloseTo(values[i], within(figures.get(i)[1]));
        }
    }

    @Test
    void everyFigureOfTheFitIsThereWithItsInterval() throws Exception {
        Section told = section(fitted(), "What this burn tells of the forge");
        JsonNode loss = fit.get("lossCoefficient");
        assertSays(
                fact(told, "Loss coefficient").value(),
                loss.get("valueWPerK").doubleValue(),
                loss.get("low95").doubleValue(),
                loss.get("high95").doubleValue());
        List<List<String>> rows = block(told, Table.class).rows();
        assertThat(rows).hasSize(fit.get("parameters").size());
        for (int i = 0; i < rows.size(); i++) {
            JsonNode parameter = fit.get("parameters").get(i);
            double times = parameter.get("unit").textValue().equals("m2") ? 1e4 : 1;
            assertSays(
                    rows.get(i).get(1),
                    times * parameter.get("value").doubleValue(),
                    times * parameter.get("low95").doubleValue(),
                    times * parameter.get("high95").doubleValue());
            assertThat(rows.get(i).get(3))
                    .isEqualTo(
                            switch (parameter.get("status").textValue()) {
                                case "identified" -> "by this burn";
                                case "prior" -> "by the description, hardly more";
                                default -> "by nothing";
                            });
        }
    }

    @Test
    void whatTheFitCouldNotTellIsListedWithWhatWould() throws Exception {
        String untold = text(section(fitted(), "What it could not tell, and what would"));
        int listed = 0;
        for (JsonNode parameter : fit.get("parameters")) {
            String advice = parameter.get("advice").textValue();
            if (!parameter.get("status").textValue().equals("identified") && !advice.isEmpty()) {
                assertThat(untold).contains(advice);
                listed++;
            }
        }
        assertThat(listed).isPositive();
    }

    @Test
    void theCurvesAreThoseOfTheFit() throws Exception {
        Figure figure = block(section(fitted(), "Chamber and gas over the burn"), Figure.class);
        TimeChart chart = (TimeChart) figure.drawing();
        assertThat(chart.lines()).extracting(TimeChart.Line::name).containsExactly("predicted", "measured", "fitted");
        for (TimeChart.Line line : chart.lines()) {
            assertThat(line.spots()).hasSize(fit.get("curve").size());
            for (int i = 0; i < line.spots().size(); i++) {
                JsonNode there = fit.get("curve").get(i).get(line.name() + "C");
                assertThat(line.spots().get(i).value()).isEqualTo(there.isNull() ? Double.NaN : there.doubleValue());
            }
        }
        assertThat(chart.marks()).extracting(TimeChart.Mark::name).containsExactly("1", "2", "3");
        assertThat(chart.marks().get(0).timeS()).isCloseTo(570, within(2.0));
    }

    @Test
    void heatOfTheReportIsTheLedgersSum() throws Exception {
        double joules = 0;
        for (JsonNode entry : fit.get("ledger")) {
            joules += entry.get("inputW").doubleValue()
                    * (entry.get("atS").doubleValue() - entry.get("fromS").doubleValue());
        }
        Table table = block(section(fitted(), "Where the heat went"), Table.class);
        assertSays(table.rows().get(0).get(1), joules / 3.6e6);
        double parts = 0;
        for (List<String> row : table.rows().subList(1, table.rows().size())) {
            parts += Double.parseDouble(row.get(1).replace('−', '-'));
        }
        assertThat(parts).isCloseTo(joules / 3.6e6, within(0.03));
    }

    @Test
    void gasIsEstimatedWeighedPricedAndCompared() throws Exception {
        Section gas = section(fitted(), "Gas");
        double estimated = book.burn().gasUsedKg();
        double half = 1.96 * estimated * 0.05 / 0.85;
        assertThat(book.forge().description().burner().dischargeCoefficient()).isEqualTo(0.85);
        assertThat(book.forge().description().burner().dischargeStandardUncertainty())
                .isEqualTo(0.05);
        assertSays(fact(gas, "By jet and pressure").value(), estimated, estimated - half, estimated + half);
        // The true forge took what the scale says; both intervals hold it.
        assertThat(figures(fact(gas, "By the scale").value()).get(0)[0]).isCloseTo(estimated, within(0.06));
        assertThat(fact(gas, "Cost").value()).endsWith(" EUR");
        assertThat(text(gas)).contains("The two agree");
    }

    @Test
    void settingsBeforeAndNotesDuringTheBurnAreToldInOrder() throws Exception {
        ReportContent content = fitted();
        assertThat(text(section(content, "Settings when it was lit"))).contains("jet 0.8 mm");
        assertThat(block(section(content, "Written down during the burn"), Entries.class)
                        .entries())
                .extracting(Entry::text)
                .containsExactly("softer roar", "stock in", "plug out");
        assertThat(content.subtitle()).contains("11:00:30", "CET", book.burn().id());
    }

    @Test
    void aCorrectedLogIsToldAsItStandsNow(@TempDir Path other) throws Exception {
        try (RecordedBook corrected = new RecordedBook.Maker()
                .hands(100, "note", "blue flame")
                .hands(200, "note", "front closed")
                .until(900)
                .in(other)) {
            WallTime first = RecordedBook.T0.plusSeconds(100);
            WallTime second = RecordedBook.T0.plusSeconds(200);
            WallTime later = RecordedBook.T0.plusSeconds(50_000);
            Correction withdrawn = Correction.withdraw("shed", later, new EntryKey(first, "note"), "");
            Correction reworded = new Correction(
                    "shed", later.plusSeconds(1), new EntryKey(second, "note"), null, "front half closed", false, "");
            corrected
                    .store()
                    .append(new StoreBatch(
                            List.of(), List.of(withdrawn.note(), reworded.note()), List.of(), List.of(), List.of()));
            ReportContent content = corrected.report(Optional.empty()).content(RecordedBook.READER, RecordedBook.NOW);
            assertThat(block(section(content, "Written down during the burn"), Entries.class)
                            .entries())
                    .extracting(Entry::text)
                    .containsExactly("front half closed");
        }
    }

    @Test
    void withoutAFitItSaysWhyAndStillShowsWhatWasMeasured() throws Exception {
        ReportContent content = book.report(Optional.empty()).content(RecordedBook.READER, RecordedBook.NOW);
        assertThat(text(section(content, "What this burn tells of the forge")))
                .contains("Not fitted, because")
                .contains("fit --burn " + book.burn().id());
        TimeChart chart = (TimeChart) block(section(content, "Chamber and gas over the burn"), Figure.class)
                .drawing();
        assertThat(chart.lines()).extracting(TimeChart.Line::name).containsExactly("measured");
        double hottest = chart.lines().get(0).spots().stream()
                .mapToDouble(TimeChart.Spot::value)
                .max()
                .orElseThrow();
        assertThat(hottest).isCloseTo(book.burn().peakC(), within(15.0));
        assertThat(content.sections()).noneMatch(each -> each.title().equals("Where the heat went"));
    }

    @Test
    void aFitThatDidNotComeToRestTellsNoFigures() throws Exception {
        String failed =
                json.replace("\"converged\":true,\"why\":\"\"", "\"converged\":false,\"why\":\"too few readings\"");
        ReportContent content = book.report(Optional.of(failed)).content(RecordedBook.READER, RecordedBook.NOW);
        assertThat(text(section(content, "What this burn tells of the forge"))).contains("too few readings");
        assertThat(content.sections()).noneMatch(each -> each.title().equals("As described, or not"));
    }

    @Test
    void anotherReaderGetsFahrenheitAndPoundsPerSquareInch() throws Exception {
        Reader reader = new Reader(Temperature.F, Pressure.PSI, ZoneId.of("America/New_York"), Paper.LETTER);
        ReportContent content = book.report(Optional.of(json)).content(reader, RecordedBook.NOW);
        assertSays(
                fact(section(content, "The burn in short"), "Highest").value(),
                book.burn().peakC() * 1.8 + 32);
        assertThat(content.toString()).contains("psi").contains("EST").doesNotContain("°C");
    }

    @Test
    void aBurnThatGoesOnIsReportedAsFarAsItHasCome(@TempDir Path other) throws Exception {
        try (RecordedBook going = new RecordedBook.Maker().until(900).in(other)) {
            assertThat(going.burn().end()).isNull();
            ReportContent content = going.report(Optional.empty(), RecordedBook.T0.plusSeconds(900))
                    .content(RecordedBook.READER, RecordedBook.NOW);
            assertThat(content.subtitle()).contains("still burning");
            assertThat(fact(section(content, "The burn in short"), "Burning for")
                            .value())
                    .isEqualTo("14\u00a0min 30\u00a0s");
            assertThat(text(section(content, "What this burn tells of the forge")))
                    .contains("still burns");
        }
    }

    @Test
    void withoutPressureSensorOrPriceItSaysSo(@TempDir Path other) throws Exception {
        try (RecordedBook blind =
                new RecordedBook.Maker().withoutPressure().withoutPrice().in(other)) {
            ReportContent content = blind.report(Optional.empty()).content(RecordedBook.READER, RecordedBook.NOW);
            assertThat(text(section(content, "Chamber and gas over the burn")))
                    .contains("No gas pressure was measured");
            Section gas = section(content, "Gas");
            assertThat(fact(gas, "By jet and pressure").value()).isEqualTo("not known");
            assertThat(fact(gas, "By jet and pressure").remark()).contains("pressure sensor");
            assertThat(fact(gas, "Cost").remark()).contains("no price");
            assertThat(figures(fact(gas, "By the scale").value()).get(0)[0]).isPositive();
        }
    }

    @Test
    void aRecordWithoutALightingIsReportedAsOneBurn() throws Exception {
        ReportContent content = book.report(book.whole(), Optional.empty(), RecordedBook.NOW)
                .content(RecordedBook.READER, RecordedBook.NOW);
        Section brief = section(content, "The burn in short");
        assertThat(fact(brief, "Burnt for").value()).isEqualTo("1\u00a0h 00\u00a0min");
        assertSays(fact(brief, "Highest").value(), book.burn().peakC());
        assertThat(fact(section(content, "Gas"), "By jet and pressure").remark())
                .contains("not counted");
    }

    @Test
    void everyReportCarriesTheCautions() throws Exception {
        for (Optional<String> each : List.of(Optional.of(json), Optional.<String>empty())) {
            ReportContent content = book.report(each).content(RecordedBook.READER, RecordedBook.NOW);
            assertThat(text(section(content, "Read this with care")))
                    .contains(
                            "not a burner safety control",
                            "CO alarm",
                            "close the gas at the cylinder",
                            "Ceramic fibre",
                            "limit that you set is a guess",
                            "Local codes");
        }
    }
}
