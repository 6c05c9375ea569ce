package org.bankfire.daemon.report;

import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.trial.FigureKey;
import org.bankfire.analysis.trial.StretchFigure;
import org.bankfire.analysis.trial.Trial;
import org.bankfire.analysis.trial.Trial.Corrected;
import org.bankfire.analysis.trial.Trial.StretchTold;
import org.bankfire.analysis.trial.TrialComparison;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialSeries;

/**
 * Trials as CSV (RFC 4180), a figure a row: those of stretches with {@code kind} {@code stretch}, those of trials with
 * {@code trial}, differences with {@code difference}. A cell is empty where there is nothing to say.
 */
public final class TrialCsv {
    private static final String HEADER =
            "kind,trial,against,settings,burn,fromS,toS,figure,atC,unit,value,low95,high95,"
                    + "atCommonConditions,pTogether,verdict,words\r\n";

    private final StringBuilder text = new StringBuilder(HEADER);

    private TrialCsv() {}

    /** A series. */
    public static String of(TrialSeries series) {
        TrialCsv csv = new TrialCsv();
        for (Trial trial : series.trials()) {
            csv.trial(trial);
        }
        for (TrialComparison comparison : series.comparisons()) {
            for (Difference difference : comparison.differences()) {
                csv.difference(comparison, difference);
            }
        }
        return csv.text.toString();
    }

    private void trial(Trial trial) {
        String settings = trial.settings().words();
        for (StretchTold told : trial.stretches()) {
            for (StretchFigure figure : told.figures()) {
                Corrected corrected = told.corrected().get(figure.key());
                row(
                        "stretch",
                        String.valueOf(trial.number()),
                        "",
                        settings,
                        told.stretch().burn().burnId(),
                        number(told.stretch().fromS()),
                        number(told.stretch().toS()),
                        figure.key(),
                        figure.key().figure().unit(),
                        figure.band(),
                        corrected == null ? "" : number(corrected.value()),
                        "",
                        "",
                        figure.because());
            }
        }
        for (Trial.Mean mean : trial.means()) {
            row(
                    "trial",
                    String.valueOf(trial.number()),
                    "",
                    settings,
                    "",
                    "",
                    "",
                    mean.key(),
                    mean.key().figure().unit(),
                    mean.band(),
                    number(mean.band().value()),
                    "",
                    "",
                    mean.because());
        }
    }

    private void difference(TrialComparison comparison, Difference difference) {
        row(
                "difference",
                String.valueOf(comparison.to().number()),
                String.valueOf(comparison.from().number()),
                comparison.to().settings().words(),
                "",
                "",
                "",
                difference.key(),
                difference.key().figure().isPlain() ? "K" : "%",
                new Band(difference.value(), difference.low95(), difference.high95()),
                number(difference.value()),
                number(difference.pTogether()),
                difference.verdict().code(),
                difference.evidence());
    }

    private void row(
            String kind,
            String trial,
            String against,
            String settings,
            String burn,
            String fromS,
            String toS,
            FigureKey key,
            String unit,
            Band band,
            String atCommon,
            String pTogether,
            String verdict,
            String words) {
        text.append(String.join(
                        ",",
                        kind,
                        trial,
                        against,
                        quoted(settings),
                        quoted(burn),
                        fromS,
                        toS,
                        key.figure().code(),
                        number(key.atC()),
                        unit,
                        number(band.value()),
                        number(band.low95()),
                        number(band.high95()),
                        atCommon,
                        pTogether,
                        verdict,
                        quoted(words)))
                .append("\r\n");
    }

    private static String number(double value) {
        return Double.isFinite(value) ? Figures.significant(value).toPlainString() : "";
    }

    private static String quoted(String value) {
        return value.isEmpty() ? "" : '"' + value.replace("\"", "\"\"") + '"';
    }
}
