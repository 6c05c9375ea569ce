package org.bankfire.daemon.report.series;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.trial.Correction;
import org.bankfire.analysis.trial.TrialComparison;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.daemon.report.burn.Phrases;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Column;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Table;

/** What the changes between trials did, with the evidence. */
final class SeriesChanges {
    private final TrialSeries series;
    private final SeriesFigures figures;

    SeriesChanges(TrialSeries series, SeriesFigures figures) {
        this.series = series;
        this.figures = figures;
    }

    /** What was changed, such as {@code Trial 1 → 2, jet 0.8 → 0.9 mm}. */
    static String heading(TrialComparison comparison) {
        List<String> changed = new ArrayList<>();
        for (String name : comparison.changed()) {
            changed.add(name + " " + orDescribed(comparison.from().settings().of(name)) + " → "
                    + orDescribed(comparison.to().settings().of(name)));
        }
        return "Trial " + comparison.from().number() + " → " + comparison.to().number()
                + (changed.isEmpty() ? "" : ", " + String.join(", ", changed));
    }

    static String orDescribed(String value) {
        return value.isEmpty() ? "as described" : value;
    }

    /** All comparisons; a sentence when there is none. */
    List<Block> blocks() {
        List<Block> blocks = new ArrayList<>();
        if (series.comparisons().isEmpty()) {
            blocks.add(new Paragraph(
                    "There is one set of settings only: nothing to compare. A burn under another would give something.",
                    false));
        }
        for (TrialComparison comparison : series.comparisons()) {
            blocks.add(new Paragraph(heading(comparison) + ". " + figures.sentence(comparison.sentence()), false));
            List<Difference> told =
                    comparison.differences().stream().filter(Difference::isTold).toList();
            if (!told.isEmpty()) {
                blocks.add(verdicts(told));
                corrections(told, blocks);
            }
            List<String> evidence = new ArrayList<>();
            for (Difference difference : comparison.differences()) {
                evidence.add(figures.sentence(figures.name(difference.key()) + ": " + difference.evidence())
                        + (difference.would().isEmpty()
                                ? ""
                                : " " + figures.sentence("would tell: " + difference.would())));
            }
            if (!evidence.isEmpty()) {
                blocks.add(new Bullets(evidence));
            }
        }
        return blocks;
    }

    private Table verdicts(List<Difference> told) {
        List<List<String>> rows = new ArrayList<>();
        for (Difference difference : told) {
            rows.add(List.of(
                    figures.name(difference.key()),
                    figures.difference(difference.key(), difference.value(), difference.low95(), difference.high95()),
                    difference.verdict().code().replace('-', ' '),
                    chance(difference.p()),
                    chance(difference.pTogether())));
        }
        return new Table(
                "The later trial against the earlier at common conditions, with 95 % intervals. Chance: how often mere"
                        + " scatter from burn to burn would make such a difference, for the figure by itself and with all"
                        + " figures in view; the verdict goes by the latter.",
                List.of(
                        new Column("figure", false, 1.6),
                        new Column("difference", false, 1.8),
                        new Column("verdict", false, 1),
                        new Column("chance, itself", true, 0.8),
                        new Column("chance, all", true, 0.8)),
                rows);
    }

    private static String chance(double p) {
        return p < 0.001 ? "< 0.001" : Phrases.fixed(p, 3);
    }

    private void corrections(List<Difference> told, List<Block> blocks) {
        List<List<String>> rows = new ArrayList<>();
        for (Difference difference : told) {
            Correction from = difference.correctedFrom();
            Correction to = difference.correctedTo();
            if (from != null && to != null) {
                rows.add(correction(difference, "earlier", from));
                rows.add(correction(difference, "later", to));
            }
        }
        if (!rows.isEmpty()) {
            blocks.add(new Table(
                    "What the model put right before they were compared.",
                    List.of(
                            new Column("figure", false, 1.6),
                            new Column("trial", false, 0.8),
                            new Column("for the start", true, 1),
                            new Column("for the surroundings", true, 1),
                            new Column("for the gas pressure", true, 1)),
                    rows));
        }
    }

    private List<String> correction(Difference difference, String trial, Correction by) {
        return List.of(
                figures.name(difference.key()),
                trial,
                figures.correction(difference.key(), by.start()),
                figures.correction(difference.key(), by.ambient()),
                figures.correction(difference.key(), by.pressure()));
    }
}
