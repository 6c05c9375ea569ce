package org.bankfire.daemon.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.trial.Conditions;
import org.bankfire.analysis.trial.FigureKey;
import org.bankfire.analysis.trial.NextTrial.Proposal;
import org.bankfire.analysis.trial.Trial;
import org.bankfire.analysis.trial.TrialComparison;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialSeries;

/** Trials for the terminal: what each tells, what changed between them, and what to burn next. */
public final class TrialText {
    private static final int NAME_WIDTH = 28;
    private static final int CELL_WIDTH = 26;
    private static final double S_PER_MIN = 60;

    private final StringBuilder text = new StringBuilder();

    private TrialText() {}

    /** A series. */
    public static String of(TrialSeries series) {
        TrialText lines = new TrialText();
        lines.text.append(series.forge().name());
        Conditions common = series.common();
        if (common == null || series.trials().isEmpty()) {
            return lines.text.append(": no burn to make a trial of\n").toString();
        }
        lines.line(String.format(
                Locale.ROOT,
                ": %d trials, all brought to a start at %.0f °C, surroundings of %.0f °C and %.0f kPa from gas on",
                series.trials().size(),
                Figures.celsius(common.startK()),
                Figures.celsius(common.ambientK()),
                common.gaugePa() / 1000));
        for (Trial trial : series.trials()) {
            lines.trial(trial);
        }
        series.comparisons().forEach(lines::comparison);
        lines.line("");
        lines.line("Next: " + series.next().why());
        for (Proposal proposal : series.next().proposals()) {
            lines.line("  " + proposal.why());
        }
        lines.line("");
        series.remarks().forEach(lines::line);
        return lines.text.toString();
    }

    private void trial(Trial trial) {
        line("");
        line("Trial " + trial.number() + ": " + trial.settings().words() + (trial.present() ? " (in force now)" : ""));
        line("  burns " + String.join(", ", trial.burns()));
        for (Trial.Mean mean : trial.means()) {
            String name = "  " + padded(mean.key().words(), NAME_WIDTH);
            if (mean.burns() > 0) {
                line(name + padded(value(mean.key(), mean.band().value()), CELL_WIDTH) + "95 % "
                        + value(mean.key(), mean.band().low95()) + " to "
                        + value(mean.key(), mean.band().high95())
                        + (mean.burns() > 1 ? ", " + mean.burns() + " burns" : ", one burn"));
            } else {
                line(name + "cannot tell: " + mean.because()
                        + (mean.would().isEmpty() ? "" : "; would tell: " + mean.would()));
            }
        }
    }

    private void comparison(TrialComparison comparison) {
        line("");
        List<String> changed = new ArrayList<>();
        for (String name : comparison.changed()) {
            changed.add(name + " " + orDescribed(comparison.from().settings().of(name)) + " → "
                    + orDescribed(comparison.to().settings().of(name)));
        }
        line("Trial " + comparison.from().number() + " → " + comparison.to().number() + ": "
                + String.join(", ", changed));
        line("  " + comparison.sentence());
        for (Difference difference : comparison.differences()) {
            if (difference.isTold()) {
                line("  " + padded(difference.key().words(), NAME_WIDTH)
                        + padded(difference.verdict().code().replace('-', ' '), 14) + difference.evidence()
                        + (difference.would().isEmpty() ? "" : " Would tell: " + difference.would() + "."));
            }
        }
    }

    private static String orDescribed(String value) {
        return value.isEmpty() ? "as described" : value;
    }

    private static String value(FigureKey key, double value) {
        return switch (key.figure()) {
            case TIME_TO_TARGET -> Figures.fixed(value / S_PER_MIN, 1) + " min";
            case HEATING_RATE -> Figures.fixed(value, 1) + " K/min";
            case STEADY_TEMPERATURE -> Figures.fixed(value, 0) + " °C";
            case GAS_AT_TARGET -> Figures.fixed(value, 3) + " kg/h";
            case LOSS_COEFFICIENT -> Figures.fixed(value, 2) + " W/K";
            case EFFICIENCY -> Figures.fixed(100 * value, 1) + " %";
            case MIXTURE -> Figures.fixed(value, 2);
            case CHAMBER_FLUTTER -> Figures.fixed(value, 2) + " K";
            case GAS_FLUTTER -> Figures.fixed(value, 0) + " Pa";
        };
    }

    private static String padded(String value, int width) {
        return value.length() >= width ? value + " " : value + " ".repeat(width - value.length());
    }

    private void line(String content) {
        text.append(content).append('\n');
    }
}
