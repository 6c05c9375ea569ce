package org.bankfire.daemon.report.series;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import javax.xml.parsers.DocumentBuilderFactory;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.trial.Conditions;
import org.bankfire.analysis.trial.Correction;
import org.bankfire.analysis.trial.FigureKey;
import org.bankfire.analysis.trial.NextTrial;
import org.bankfire.analysis.trial.NextTrial.Known;
import org.bankfire.analysis.trial.NextTrial.Proposal;
import org.bankfire.analysis.trial.ScatterSource;
import org.bankfire.analysis.trial.Trial;
import org.bankfire.analysis.trial.Trial.Mean;
import org.bankfire.analysis.trial.TrialComparison;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialComparison.Scatter;
import org.bankfire.analysis.trial.TrialFigure;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.analysis.trial.TrialSettings;
import org.bankfire.analysis.trial.Verdict;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.report.burn.WrittenReport;
import org.bankfire.dashboard.source.ReportBook.Format;
import org.bankfire.dashboard.source.ReportBook.Paper;
import org.bankfire.dashboard.source.ReportBook.Pressure;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.ReportBook.Temperature;
import org.junit.jupiter.api.Test;

/** The report of trials written by hand: what they say must be read in it, in the reader's units. */
final class SeriesReportTest {
    private static final WallTime MADE = WallTime.ofEpochSeconds(1_772_359_200);
    private static final FigureKey RATE = new FigureKey(TrialFigure.HEATING_RATE, 873.15);
    private static final FigureKey STEADY = new FigureKey(TrialFigure.STEADY_TEMPERATURE, Double.NaN);

    private static ForgeDescription forge() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        return ConfigReader.read(Files.readString(example), "shed.toml", Path.of("."))
                .config()
                .forges()
                .get(0)
                .description();
    }

    private static Trial trial(int number, String jet, double rate) {
        return new Trial(
                number,
                new TrialSettings(new TreeMap<>(Map.of("jet", jet))),
                number == 2,
                List.of(),
                List.of(
                        new Mean(RATE, 3, new Band(rate, rate - 2.5, rate + 2.5), "", ""),
                        new Mean(
                                STEADY,
                                0,
                                new Band(Double.NaN, Double.NaN, Double.NaN),
                                "the burn leaves it open",
                                "an idle of ten minutes")));
    }

    private static TrialSeries series() throws Exception {
        Trial first = trial(1, "0.8 mm", 40);
        Trial second = trial(2, "0.9 mm", 48);
        Difference real = new Difference(
                RATE,
                20,
                12.5,
                27.5,
                0.002,
                0.018,
                Verdict.REAL,
                new Scatter(ScatterSource.MIXED, 4, 6, 1),
                new Correction(1.5, -0.4, 2, 0, List.of()),
                new Correction(0, 0.3, -2.6, 0, List.of()),
                "it heats faster by 20 %",
                "");
        return new TrialSeries(
                forge(),
                new Conditions(293.15, 293.15, 50_000),
                KnownForge.Basis.FITTED,
                List.of(RATE, STEADY),
                RATE,
                List.of(first, second),
                List.of(new TrialComparison(
                        first, second, List.of("jet"), RATE, Verdict.REAL, "The heating rate rose", List.of(real))),
                new NextTrial(
                        List.of(new Proposal(
                                "jet 1.0 mm",
                                new TrialSettings(new TreeMap<>(Map.of("jet", "1.0 mm"))),
                                false,
                                0.42,
                                0.3,
                                0.61,
                                new Band(6, -4, 17),
                                Known.NOTHING,
                                "nobody knows yet what it does")),
                        "a larger jet tells most"),
                List.of("three burns each"));
    }

    private static byte[] written(Format format, Temperature unit) throws Exception {
        Reader reader = new Reader(unit, Pressure.BAR, ZoneOffset.UTC, Paper.A4);
        return WrittenReport.of(new SeriesReport(series()).content(reader, MADE), format, Paper.A4, MADE);
    }

    @Test
    void thePdfHoldsFiguresVerdictsEvidenceAndWhatToTry() throws Exception {
        try (PDDocument document = Loader.loadPDF(written(Format.PDF, Temperature.C))) {
            String text = new PDFTextStripper().getText(document).replaceAll("[\\s\\u00a0]+", " ");
            assertThat(text)
                    .contains("0.8 mm", "0.9 mm", "40 K/min", "48 K/min", "cannot tell", "an idle of ten minutes")
                    .contains("+20", "real", "0.002", "0.018", "it heats faster by 20 %.")
                    .contains("+1.5 %", "−0.4 %", "−2.6 %", "jet 1.0 mm", "0.42", "61 %", "Three burns each.")
                    .contains("not a burner safety control");
        }
    }

    @Test
    void thePageIsWellFormedAndInTheReadersUnits() throws Exception {
        byte[] page = written(Format.HTML, Temperature.F);
        assertThat(DocumentBuilderFactory.newInstance()
                        .newDocumentBuilder()
                        .parse(new ByteArrayInputStream(page))
                        .getElementsByTagName("table")
                        .getLength())
                .isGreaterThanOrEqualTo(5);
        assertThat(new String(page, StandardCharsets.UTF_8))
                .contains("72\u00a0°F/min (68 to 77)", "heating rate at 1112\u00a0°F", "68\u00a0°F")
                .doesNotContain("K/min");
    }
}
