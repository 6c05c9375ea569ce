package org.bankfire.daemon.report.series;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.trial.Trial;
import org.bankfire.analysis.trial.Trial.StretchTold;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.daemon.report.burn.Phrases;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Figure;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.TimeChart;
import org.bankfire.daemon.report.document.TimeChart.Level;
import org.bankfire.daemon.report.document.TimeChart.Line;
import org.bankfire.daemon.report.document.TimeChart.Spot;
import org.bankfire.dashboard.source.ReportBook.Temperature;

/** Curves of the trials, one over the other. */
final class SeriesCharts {
    private static final double HEIGHT = 250;
    /** Strokes that are told apart in black and white; a chart has as many trials at most, and its key room for them. */
    private static final List<Pen> PENS = List.of(
            Pen.solid(Ink.BLACK, 1.3),
            new Pen(Ink.RUST, 1.2, "6 2.5"),
            new Pen(Ink.STEEL, 1.3, "1.2 1.8"),
            new Pen(Ink.BLACK, 1, "9 2 1.5 2"),
            Pen.solid(Ink.GREY, 2.4));

    private final TrialSeries series;
    private final Phrases phrases;

    SeriesCharts(TrialSeries series, Phrases phrases) {
        this.series = series;
        this.phrases = phrases;
    }

    /** A chart for every few trials, all on one axis of time. */
    List<Block> curves() {
        double lengthS = series.trials().stream()
                .flatMap(trial -> trial.stretches().stream())
                .flatMap(told -> told.stretch().curve().stream())
                .mapToDouble(point -> point[0])
                .max()
                .orElse(0);
        if (!(lengthS > 0)) {
            return List.of(new Paragraph("No burn of these trials has chamber readings that could be drawn.", false));
        }
        List<Block> blocks = new ArrayList<>();
        for (int from = 0; from < series.trials().size(); from += PENS.size()) {
            List<Trial> trials =
                    series.trials().subList(from, Math.min(series.trials().size(), from + PENS.size()));
            blocks.add(
                    new Figure(
                            chart(trials, lengthS),
                            "Chamber temperature as measured, of every burn from its gas on; burns of one trial have one stroke."));
        }
        return blocks;
    }

    private TimeChart chart(List<Trial> trials, double lengthS) {
        Temperature unit = phrases.reader().temperature();
        double targetC = series.forge().targetK() - Constants.ZERO_CELSIUS_K;
        List<Line> lines = new ArrayList<>();
        for (Trial trial : trials) {
            lines.add(new Line("trial " + trial.number(), spots(trial, unit), PENS.get(lines.size())));
        }
        return new TimeChart(
                "Chamber temperature of the trials",
                "Chamber temperature of " + trials.size() + (trials.size() == 1 ? " trial" : " trials") + " over "
                        + Phrases.time(lengthS) + " from gas on, target " + phrases.degrees(targetC) + ".",
                unit.label(),
                lengthS,
                HEIGHT,
                false,
                List.of(),
                lines,
                List.of(new Level("target", unit.of(targetC))),
                List.of());
    }

    private static List<Spot> spots(Trial trial, Temperature unit) {
        List<Spot> spots = new ArrayList<>();
        for (StretchTold told : trial.stretches()) {
            for (double[] point : told.stretch().curve()) {
                spots.add(new Spot(point[0], unit.of(point[1])));
            }
            // A line does not run on from one stretch to the next.
            spots.add(new Spot(told.stretch().toS(), Double.NaN));
        }
        return spots;
    }
}
