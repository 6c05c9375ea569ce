package org.bankfire.daemon.report.burn;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.bankfire.daemon.report.document.BarChart;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Column;
import org.bankfire.daemon.report.document.ReportContent.Figure;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Table;
import org.bankfire.daemon.report.document.TimeChart;
import org.bankfire.daemon.report.document.TimeChart.Band;
import org.bankfire.daemon.report.document.TimeChart.Level;
import org.bankfire.daemon.report.document.TimeChart.Line;
import org.bankfire.daemon.report.document.TimeChart.Mark;
import org.bankfire.daemon.report.document.TimeChart.Spot;
import org.bankfire.daemon.report.document.TimeChart.Spread;
import org.bankfire.dashboard.source.ReportBook.Pressure;
import org.bankfire.dashboard.source.ReportBook.Temperature;
import org.bankfire.dashboard.source.SeriesArchive.SeriesPoint;

/** The charts of a burn. */
final class BurnCharts {
    private static final double CHAMBER_HEIGHT = 250;
    private static final double GAS_HEIGHT = 120;
    private static final Pen MEASURED = Pen.solid(Ink.BLACK, 1.3);
    private static final Pen FITTED = new Pen(Ink.RUST, 1, "5 2.5");
    private static final Pen PREDICTED = new Pen(Ink.STEEL, 1.1, "1.2 1.8");
    /** Lengths of a stretch that people count in, s. */
    private static final double[] STRETCHES = {15, 30, 60, 120, 300, 600, 900, 1_800, 3_600, 7_200};

    private static final int MOST_ROWS = 14;
    private static final double J_PER_KWH = 3.6e6;
    private static final double S_PER_MIN = 60;
    /** Sources that speak every half minute have no gaps, s. */
    private static final double LEAST_GAP_S = 60;

    private static final List<String> USES = List.of("openingsW", "flueW", "liningW", "stockW", "storedW");
    private static final List<String> NAMES = List.of("openings", "flue", "lining", "stock", "stored");

    private final BurnFile file;
    private final Phrases phrases;

    BurnCharts(BurnFile file, Phrases phrases) {
        this.file = file;
        this.phrases = phrases;
    }

    /** Chamber and gas pressure, with the marks of the log. */
    List<Block> curves(List<Mark> marks) {
        List<Block> blocks = new ArrayList<>();
        List<Mark> shown = TimeChart.within(marks, file.lengthS());
        JsonNode curve = file.isFitted() ? file.fitted().path("curve") : null;
        if (curve != null && !curve.isEmpty()) {
            blocks.add(new Figure(
                    fittedChart(curve, shown),
                    "Chamber temperature as measured, as fitted, and as the"
                            + " description alone predicts it at the gas that flowed, with the 95 % band of the prediction."
                            + markWords(shown)));
        } else if (!file.chamber().isEmpty()) {
            blocks.add(new Figure(measuredChart(shown), "Chamber temperature as measured." + markWords(shown)));
        } else {
            blocks.add(new Paragraph("There is no good reading of the chamber in the store.", true));
        }
        if (file.gas().isEmpty()) {
            blocks.add(new Paragraph("No gas pressure was measured during this burn.", false));
        } else {
            blocks.add(new Figure(
                    gasChart(),
                    "Gauge pressure between regulator and jet: mean, least and greatest of each" + " stretch of "
                            + Phrases.time(file.lengthS() / BurnFile.POINTS) + "."));
        }
        return blocks;
    }

    private static String markWords(List<Mark> shown) {
        return shown.isEmpty()
                ? ""
                : " Numbers: written down during the burn; letters: alarms raised. Both are listed below.";
    }

    private TimeChart fittedChart(JsonNode curve, List<Mark> marks) {
        List<JsonNode> moments = new ArrayList<>();
        curve.forEach(moments::add);
        List<Line> lines = List.of(
                new Line("predicted", degrees(moments, "predictedC"), PREDICTED),
                new Line("measured", degrees(moments, "measuredC"), MEASURED),
                new Line("fitted", degrees(moments, "fittedC"), FITTED));
        Temperature unit = phrases.reader().temperature();
        List<Spread> spreads = new ArrayList<>();
        for (JsonNode moment : moments) {
            spreads.add(new Spread(
                    Phrases.number(moment, "tS"),
                    unit.of(Phrases.number(moment, "low95C")),
                    unit.of(Phrases.number(moment, "high95C"))));
        }
        return chamberChart(List.of(new Band("95 % of the prediction", spreads)), lines, marks);
    }

    private List<Spot> degrees(List<JsonNode> moments, String key) {
        Temperature unit = phrases.reader().temperature();
        return moments.stream()
                .map(moment -> new Spot(Phrases.number(moment, "tS"), unit.of(Phrases.number(moment, key))))
                .toList();
    }

    private TimeChart measuredChart(List<Mark> marks) {
        Temperature unit = phrases.reader().temperature();
        List<Spot> spots = withGaps(file.chamber(), point -> unit.of(point.mean()));
        return chamberChart(List.of(), List.of(new Line("measured", spots, MEASURED)), marks);
    }

    private TimeChart chamberChart(List<Band> bands, List<Line> lines, List<Mark> marks) {
        Temperature unit = phrases.reader().temperature();
        double targetC = file.face().settings().targetC();
        double peak = lines.stream()
                .filter(line -> line.name().equals("measured"))
                .flatMapToDouble(line -> line.spots().stream().mapToDouble(Spot::value))
                .filter(Double::isFinite)
                .max()
                .orElse(Double.NaN);
        return new TimeChart(
                "Chamber temperature over the burn",
                "Chamber temperature over " + Phrases.time(file.lengthS()) + " from gas on: highest "
                        + Phrases.fixed(peak, 0) + " " + unit.label() + ", target " + phrases.degrees(targetC) + ".",
                unit.label(),
                file.lengthS(),
                CHAMBER_HEIGHT,
                false,
                bands,
                lines,
                List.of(new Level("target", unit.of(targetC))),
                marks);
    }

    private TimeChart gasChart() {
        Pressure unit = phrases.reader().pressure();
        List<Spread> spreads = file.gas().stream()
                .map(point -> new Spread(sinceStart(point), unit.of(point.min()), unit.of(point.max())))
                .toList();
        Line mean = new Line("gas pressure", withGaps(file.gas(), point -> unit.of(point.mean())), MEASURED);
        double most = file.gas().stream().mapToDouble(SeriesPoint::max).max().orElse(0);
        return new TimeChart(
                "Gas pressure over the burn",
                "Gas pressure over " + Phrases.time(file.lengthS()) + " from gas on: at most " + phrases.pressure(most)
                        + ".",
                unit.label(),
                file.lengthS(),
                GAS_HEIGHT,
                true,
                List.of(new Band("least to greatest", spreads)),
                List.of(mean),
                List.of(),
                List.of());
    }

    private double sinceStart(SeriesPoint point) {
        return point.time().secondsSince(file.burn().start());
    }

    /** Steps without a reading are left out of a series; a line does not run over several of them. */
    private List<Spot> withGaps(List<SeriesPoint> points, ToDoubleFunction<SeriesPoint> value) {
        double mostS = Math.max(LEAST_GAP_S, 8 * file.lengthS() / BurnFile.POINTS);
        List<Spot> spots = new ArrayList<>();
        double lastS = Double.NaN;
        for (SeriesPoint point : points) {
            double timeS = sinceStart(point);
            if (timeS - lastS > mostS) {
                spots.add(new Spot(lastS, Double.NaN));
            }
            spots.add(new Spot(timeS, value.applyAsDouble(point)));
            lastS = timeS;
        }
        return spots;
    }

    /** The heat ledger in stretches, as bars and as figures; empty when the fit has none. */
    List<Block> heat() {
        JsonNode ledger = file.fitted().path("ledger");
        if (ledger.isEmpty()) {
            return List.of();
        }
        double lastS = Phrases.number(ledger.get(ledger.size() - 1), "atS");
        double stepS = Math.ceil(lastS / MOST_ROWS / 3_600) * 3_600;
        for (int i = STRETCHES.length - 1; i >= 0; i--) {
            stepS = lastS / STRETCHES[i] <= MOST_ROWS ? STRETCHES[i] : stepS;
        }
        List<BarChart.Row> bars = new ArrayList<>();
        for (double fromS = 0; fromS < lastS; fromS += stepS) {
            double[] watts = mean(ledger, fromS, Math.min(lastS, fromS + stepS));
            bars.add(row(minutes(fromS) + "–" + minutes(Math.min(lastS, fromS + stepS)), watts));
        }
        double[] whole = mean(ledger, 0, lastS);
        BarChart chart = new BarChart(
                "Where the heat went",
                "Heat input of the gas over the burn " + Phrases.fixed(whole[0] * lastS / J_PER_KWH, 2)
                        + " kWh; the table has the parts.",
                "kW",
                "min from gas on",
                NAMES,
                "heat input, kW",
                bars);
        return List.of(
                new Figure(
                        chart,
                        "Mean of each stretch. The heavy upright stroke is what the gas brings; what reaches beyond it, the"
                                + " hot lining gives back. Flue: sensible and unburnt heat that leaves with the gas."),
                table(whole, lastS));
    }

    private static BarChart.Row row(String name, double[] watts) {
        List<Double> parts = new ArrayList<>();
        for (int i = 1; i < watts.length; i++) {
            parts.add(watts[i] / 1_000);
        }
        return new BarChart.Row(name, watts[0] / 1_000, parts);
    }

    private static String minutes(double seconds) {
        double minutes = seconds / S_PER_MIN;
        return Phrases.fixed(minutes, Math.abs(minutes - Math.rint(minutes)) < 0.01 ? 0 : 1);
    }

    private static Table table(double[] whole, double lastS) {
        List<List<String>> rows = new ArrayList<>();
        rows.add(List.of("heat input of the gas", kilowattHours(whole[0], lastS), whole[0] > 0 ? "100 %" : ""));
        for (int i = 0; i < USES.size(); i++) {
            rows.add(List.of(
                    NAMES.get(i),
                    kilowattHours(whole[i + 1], lastS),
                    whole[0] > 0 ? Phrases.fixed(100 * whole[i + 1] / whole[0], 0) + " %" : ""));
        }
        return new Table(
                "Heat over the whole record of " + Phrases.time(lastS) + ", cooling included.",
                List.of(new Column("heat", false, 3), new Column("kWh", true, 1), new Column("of the input", true, 1)),
                rows);
    }

    private static String kilowattHours(double watts, double lengthS) {
        return Phrases.fixed(watts * lengthS / J_PER_KWH, 2);
    }

    /** Input and uses over a stretch, W. */
    private static double[] mean(JsonNode ledger, double fromS, double toS) {
        double[] joules = new double[USES.size() + 1];
        double held = 0;
        for (JsonNode entry : ledger) {
            double entryFromS = entry.has("fromS") ? Phrases.number(entry, "fromS") : 0;
            double seconds = Math.min(toS, Phrases.number(entry, "atS")) - Math.max(fromS, entryFromS);
            if (seconds > 0) {
                held += seconds;
                joules[0] += seconds * Phrases.number(entry, "inputW");
                for (int i = 0; i < USES.size(); i++) {
                    joules[i + 1] += seconds * Phrases.number(entry, USES.get(i));
                }
            }
        }
        for (int i = 0; i < joules.length; i++) {
            joules[i] = held > 0 ? joules[i] / held : 0;
        }
        return joules;
    }
}
