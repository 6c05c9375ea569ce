package org.bankfire.daemon.report.series;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.trial.Conditions;
import org.bankfire.analysis.trial.FigureKey;
import org.bankfire.analysis.trial.NextTrial.Proposal;
import org.bankfire.analysis.trial.Trial;
import org.bankfire.analysis.trial.Trial.StretchTold;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.analysis.trial.TrialStretch;
import org.bankfire.daemon.report.burn.Cautions;
import org.bankfire.daemon.report.burn.Phrases;
import org.bankfire.daemon.report.document.ReportContent;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Column;
import org.bankfire.daemon.report.document.ReportContent.Fact;
import org.bankfire.daemon.report.document.ReportContent.Facts;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Section;
import org.bankfire.daemon.report.document.ReportContent.Table;
import org.bankfire.dashboard.source.ReportBook.Reader;

/** The report of a series of trials, to be told to any reader. */
public final class SeriesReport {
    /** Trials side by side: as many columns with an interval as a sheet has room for. */
    private static final int ABREAST = 4;

    private final TrialSeries series;

    public SeriesReport(TrialSeries series) {
        this.series = series;
    }

    /**
     * All that is told of the series.
     *
     * @param made when
     */
    public ReportContent content(Reader reader, WallTime made) {
        Phrases phrases = new Phrases(reader);
        SeriesFigures figures = new SeriesFigures(phrases);
        List<Section> sections = new ArrayList<>();
        if (series.trials().isEmpty()) {
            sections.add(new Section(
                    "The trials in short", List.of(new Paragraph("There is no burn to make a trial of.", true))));
        } else {
            sections.add(new Section("The trials in short", inShort(phrases)));
            sections.add(new Section("Settings side by side", settings()));
            sections.add(new Section("Chamber over the burns", new SeriesCharts(series, phrases).curves()));
            sections.add(new Section("Figures of each trial", figures(figures)));
            sections.add(new Section("What the changes did", new SeriesChanges(series, figures).blocks()));
            sections.add(new Section("What to try next", next(figures)));
            sections.add(new Section("The burns", burns(phrases)));
        }
        List<Block> care = new ArrayList<>();
        if (!series.remarks().isEmpty()) {
            care.add(
                    new Bullets(series.remarks().stream().map(figures::sentence).toList()));
        }
        care.addAll(Cautions.blocks());
        sections.add(new Section("Read this with care", care));
        String name = series.forge().name();
        return new ReportContent(
                name + ", trials",
                span(phrases) + "Report made on " + phrases.day(made) + " at " + phrases.minute(made) + " ("
                        + phrases.zone(made) + ").",
                "Trials of " + name + ". An instrument and an alarm, not a burner safety control.",
                sections);
    }

    private List<StretchTold> stretches() {
        return series.trials().stream()
                .flatMap(trial -> trial.stretches().stream())
                .toList();
    }

    private String span(Phrases phrases) {
        List<WallTime> starts = stretches().stream()
                .map(told -> told.stretch().burn().start())
                .sorted()
                .distinct()
                .toList();
        if (starts.isEmpty()) {
            return "";
        }
        String first = phrases.day(starts.get(0));
        String last = phrases.day(starts.get(starts.size() - 1));
        String count = starts.size() == 1 ? "One burn" : starts.size() + " burns";
        return count + (first.equals(last) ? " of " + first : " from " + first + " to " + last) + ". ";
    }

    private List<Block> inShort(Phrases phrases) {
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact(
                "Trials", String.valueOf(series.trials().size()), "a trial is all burning under one set of settings"));
        facts.add(new Fact("Target", phrases.degrees(series.forge().targetK() - Constants.ZERO_CELSIUS_K), ""));
        Conditions common = series.common();
        if (common != null) {
            facts.add(new Fact(
                    "All brought to",
                    "a start at " + phrases.degrees(common.startK() - Constants.ZERO_CELSIUS_K) + ", surroundings of "
                            + phrases.degrees(common.ambientK() - Constants.ZERO_CELSIUS_K) + " and "
                            + phrases.pressure(common.gaugePa()) + " from gas on",
                    series.correctedWith() == KnownForge.Basis.FITTED
                            ? "corrected with the forge as a burn's fit knows it"
                            : "corrected with the forge as it was described"));
        }
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Facts(facts));
        List<String> sentences = series.comparisons().stream()
                .map(comparison -> SeriesChanges.heading(comparison) + ": " + phrases.retold(comparison.sentence()))
                .toList();
        if (!sentences.isEmpty()) {
            blocks.add(new Bullets(sentences));
        }
        return blocks;
    }

    private List<List<Trial>> abreast() {
        List<List<Trial>> groups = new ArrayList<>();
        for (int from = 0; from < series.trials().size(); from += ABREAST) {
            groups.add(series.trials().subList(from, Math.min(series.trials().size(), from + ABREAST)));
        }
        return groups;
    }

    private static List<Column> columns(String first, List<Trial> trials) {
        List<Column> columns = new ArrayList<>();
        columns.add(new Column(first, false, 1.2));
        trials.forEach(trial ->
                columns.add(new Column("trial " + trial.number() + (trial.present() ? ", in force" : ""), false, 1)));
        return columns;
    }

    private List<Block> settings() {
        SortedSet<String> names = new TreeSet<>();
        series.trials().forEach(trial -> names.addAll(trial.settings().values().keySet()));
        List<Block> blocks = new ArrayList<>();
        for (List<Trial> trials : abreast()) {
            List<List<String>> rows = new ArrayList<>();
            for (String name : names) {
                List<String> row = new ArrayList<>();
                row.add(name);
                trials.forEach(trial ->
                        row.add(SeriesChanges.orDescribed(trial.settings().of(name))));
                rows.add(row);
            }
            List<String> burns = new ArrayList<>();
            burns.add("burns");
            trials.forEach(trial -> burns.add(String.valueOf(trial.burns().size())));
            rows.add(burns);
            blocks.add(new Table("As the log book has them after every correction.", columns("setting", trials), rows));
        }
        return blocks;
    }

    private List<Block> figures(SeriesFigures figures) {
        List<Block> blocks = new ArrayList<>();
        List<String> untold = new ArrayList<>();
        for (List<Trial> trials : abreast()) {
            List<List<String>> rows = new ArrayList<>();
            for (FigureKey key : series.keys()) {
                List<String> row = new ArrayList<>();
                row.add(figures.name(key));
                for (Trial trial : trials) {
                    Trial.Mean mean = mean(trial, key);
                    row.add(
                            mean.burns() == 0
                                    ? "cannot tell"
                                    : figures.value(key, mean.band())
                                            + (mean.burns() > 1 ? ", " + mean.burns() + " burns" : ""));
                    if (mean.burns() == 0) {
                        untold.add(figures.untold(
                                "trial " + trial.number() + ", " + figures.name(key), mean.because(), mean.would()));
                    }
                }
                rows.add(row);
            }
            blocks.add(new Table(
                    "At common conditions, with intervals that hold in 95 of 100 cases. Of one burn where no number of burns stands.",
                    columns("figure", trials),
                    rows));
        }
        if (!untold.isEmpty()) {
            blocks.add(new Bullets(untold));
        }
        return blocks;
    }

    private static Trial.Mean mean(Trial trial, FigureKey key) {
        return trial.means().stream()
                .filter(mean -> mean.key().equals(key))
                .findFirst()
                .orElseThrow();
    }

    private List<Block> next(SeriesFigures figures) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Paragraph(figures.sentence(series.next().why()), false));
        List<Proposal> proposals = series.next().proposals();
        if (proposals.isEmpty()) {
            return blocks;
        }
        List<List<String>> rows = new ArrayList<>();
        for (Proposal proposal : proposals) {
            rows.add(List.of(
                    proposal.change(),
                    Phrases.fixed(proposal.informationBits(), 2),
                    figures.difference(
                            series.first(),
                            proposal.expected().value(),
                            proposal.expected().low95(),
                            proposal.expected().high95()),
                    Phrases.fixed(100 * proposal.chanceBest(), 0) + " %"));
        }
        blocks.add(new Table(
                "The change is that of " + figures.name(series.first())
                        + " against the present settings. Information: what a burn is expected to tell about which of the"
                        + " possible settings is best; 1 bit halves the question.",
                List.of(
                        new Column("burn with", false, 2),
                        new Column("information, bits", true, 1),
                        new Column("expected change", false, 1.6),
                        new Column("chance to be best", true, 1)),
                rows));
        blocks.add(new Bullets(
                proposals.stream().map(each -> figures.sentence(each.why())).toList()));
        return blocks;
    }

    private List<Block> burns(Phrases phrases) {
        List<List<String>> rows = new ArrayList<>();
        for (Trial trial : series.trials()) {
            for (StretchTold told : trial.stretches()) {
                TrialStretch stretch = told.stretch();
                WallTime start = stretch.burn().start();
                rows.add(List.of(
                        String.valueOf(trial.number()),
                        stretch.burn().burnId(),
                        phrases.day(start) + ", " + phrases.minute(start) + " (" + phrases.zone(start) + ")",
                        Phrases.time(stretch.fromS()) + " to " + Phrases.time(stretch.toS()),
                        phrases.degrees(stretch.startK() - Constants.ZERO_CELSIUS_K),
                        phrases.degrees(stretch.ambientK() - Constants.ZERO_CELSIUS_K),
                        pressure(phrases, stretch.gaugePaUntil(stretch.toS()))));
            }
        }
        return List.of(new Table(
                "Stretches of equal settings, from gas on. Gas: mean gauge pressure of the stretch.",
                List.of(
                        new Column("trial", true, 0.6),
                        new Column("burn", false, 2),
                        new Column("gas on", false, 1.8),
                        new Column("stretch", false, 1.6),
                        new Column("start", true, 0.9),
                        new Column("around", true, 0.9),
                        new Column("gas", true, 1)),
                rows));
    }

    private static String pressure(Phrases phrases, double pascal) {
        return Double.isFinite(pascal) ? phrases.pressure(pascal) : "not known";
    }
}
