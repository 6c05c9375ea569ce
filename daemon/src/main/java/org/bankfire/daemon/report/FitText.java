package org.bankfire.daemon.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.burnfit.BurnFitResult.Comparison;
import org.bankfire.analysis.burnfit.BurnFitResult.LedgerEntry;
import org.bankfire.analysis.burnfit.BurnFitResult.Loss;
import org.bankfire.analysis.burnfit.BurnFitResult.Milestone;
import org.bankfire.analysis.burnfit.FittedParameter;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.WallTime;

/** The fit of a burn in words and few numbers. */
public final class FitText {
    private static final int NAME_WIDTH = 26;
    private static final int LINE_WIDTH = 100;
    private static final double MM2_PER_M2 = 1e6;

    private final StringBuilder text = new StringBuilder();

    private FitText() {}

    /**
     * Writes a fit.
     *
     * @param forge as described
     * @param start of the burn
     * @param end of what was fitted
     * @param fit what came of it
     */
    public static String of(ForgeDescription forge, WallTime start, WallTime end, BurnFitResult fit) {
        FitText lines = new FitText();
        lines.text
                .append(forge.name())
                .append(", burn of ")
                .append(start)
                .append(", ")
                .append(Figures.duration(end.secondsSince(start)))
                .append(", ")
                .append(fit.samples())
                .append(" chamber readings\n\n");
        if (!fit.converged()) {
            lines.paragraph(capital(fit.why()) + ".");
            return lines.text.toString();
        }
        lines.loss(fit.loss());
        lines.line("Time constant", time(fit.timeConstantS()) + ", soaked, for a small change of the gas");
        lines.line(
                "Left unexplained",
                Figures.fixed(fit.rmsResidualK(), 1) + " K (root mean square); the readings are worth "
                        + Figures.fixed(fit.effectiveSamples(), 0) + " independent ones");
        lines.parameters(fit);
        lines.comparison(forge, fit.comparison());
        lines.ledger(fit);
        lines.text.append('\n');
        fit.remarks().forEach(lines::paragraph);
        return lines.text.toString();
    }

    private void loss(Loss loss) {
        Band band = loss.wattsPerK();
        String at = "lining and openings, soaked, at " + Figures.fixed(Figures.celsius(loss.atK()), 0) + " °C";
        if (Double.isFinite(band.value())) {
            line("Loss coefficient", Figures.fixed(band.value(), 2) + " W/K" + between(band, 2) + ", " + at);
            return;
        }
        line(
                "Loss coefficient",
                (Double.isFinite(band.low95())
                                ? "somewhere from " + Figures.fixed(band.low95(), 2) + " to "
                                        + Figures.fixed(band.high95(), 2) + " W/K, "
                                : "not told, ")
                        + at);
        line("", loss.advice());
    }

    private void parameters(BurnFitResult fit) {
        text.append('\n');
        for (FittedParameter parameter : fit.parameters()) {
            boolean area = parameter.unit().equals("m2");
            double factor = area ? MM2_PER_M2 : 1;
            int digits = area ? 0 : parameter.unit().equals("s") ? 1 : 2;
            String unit = area ? " mm²" : parameter.unit().equals("1") ? "" : " " + parameter.unit();
            Band band = new Band(factor * parameter.value(), factor * parameter.low95(), factor * parameter.high95());
            String status = switch (parameter.status()) {
                case IDENTIFIED -> "identified";
                case PRIOR -> "from the description, the burn hardly told more";
                case NOT_IDENTIFIABLE -> "not identifiable";
            };
            line(
                    words(parameter.name()),
                    Figures.fixed(band.value(), digits) + unit + between(band, digits) + ", expected "
                            + Figures.fixed(factor * parameter.expected(), digits) + "; " + status);
            if (!parameter.advice().isEmpty()) {
                line("", "to know more: " + parameter.advice());
            }
        }
    }

    private void comparison(ForgeDescription forge, Comparison comparison) {
        text.append('\n');
        line(
                Figures.fixed(Figures.celsius(forge.targetK()), 0) + " °C after",
                time(comparison.measuredTimeToTargetS()) + "; predicted " + time(comparison.predictedTimeToTargetS()));
        List<String> times = new ArrayList<>();
        for (Milestone milestone : comparison.milestones()) {
            times.add(Figures.fixed(Figures.celsius(milestone.chamberK()), 0) + " °C " + time(milestone.measuredS())
                    + " (" + time(milestone.predictedS()) + ")");
        }
        if (!times.isEmpty()) {
            line("On the way, predicted", String.join("; ", times));
        }
        line(
                "Steady",
                Figures.fixed(Figures.celsius(comparison.fittedSteadyK()), 0) + " °C by the fit; predicted "
                        + Figures.fixed(
                                Figures.celsius(comparison.predictedSteadyK().value()), 0) + " °C"
                        + between(Figures.celsius(comparison.predictedSteadyK()), 0));
        if (!comparison.verdict().isEmpty()) {
            line("", words(comparison.verdict()));
        }
    }

    private void ledger(BurnFitResult fit) {
        double[] joule = new double[6];
        double seconds = 0;
        for (LedgerEntry entry : fit.ledger()) {
            double lengthS = entry.toS() - entry.fromS();
            HeatLedger watts = entry.watts();
            double[] part = {
                watts.input(), watts.flue(), watts.lining(), watts.openings(), watts.stock(), watts.stored()
            };
            for (int i = 0; i < joule.length; i++) {
                joule[i] += part[i] * lengthS;
            }
            seconds += lengthS;
        }
        if (!(joule[0] > 0)) {
            return;
        }
        line(
                "Heat of the record",
                Figures.fixed(joule[0] / 1e6, 1) + " MJ in " + Figures.duration(seconds) + ": "
                        + String.join(
                                ", ",
                                share("flue", joule[1], joule[0]),
                                share("lining", joule[2], joule[0]),
                                share("openings", joule[3], joule[0]),
                                share("stock", joule[4], joule[0]),
                                share("stored", joule[5], joule[0])));
    }

    private static String share(String name, double joule, double inputJ) {
        return name + " " + Figures.fixed(100 * joule / inputJ, 0) + " %";
    }

    /** A key of the JSON, or a sentence with one in it, in words: {@code heatReleaseFactor} is heat release factor. */
    private static String words(String key) {
        StringBuilder words = new StringBuilder();
        for (String word : key.split(" ", -1)) {
            boolean isKey = word.length() > 1
                    && !word.substring(1).equals(word.substring(1).toLowerCase(Locale.ROOT));
            words.append(words.isEmpty() ? "" : " ")
                    .append(isKey ? word.replaceAll("([A-Z])", " $1").strip().toLowerCase(Locale.ROOT) : word);
        }
        return words.toString();
    }

    private static String time(double seconds) {
        return Double.isFinite(seconds) ? Figures.duration(seconds) : "not reached";
    }

    private static String time(Band band) {
        return time(band.value())
                + (Double.isNaN(band.value()) || Double.isNaN(band.low95())
                        ? ""
                        : " (" + Figures.duration(band.low95()) + " to " + Figures.duration(band.high95()) + ")");
    }

    private static String between(Band band, int digits) {
        return Double.isNaN(band.low95())
                ? ""
                : " (" + Figures.fixed(band.low95(), digits) + " to " + Figures.fixed(band.high95(), digits) + ")";
    }

    private void line(String name, String value) {
        wrap(String.format(Locale.ROOT, "%-" + NAME_WIDTH + "s ", capital(name)), " ".repeat(NAME_WIDTH + 1), value);
    }

    private void paragraph(String value) {
        wrap("", "", value);
    }

    private static String capital(String name) {
        return name.isEmpty() ? name : name.substring(0, 1).toUpperCase(Locale.ROOT) + name.substring(1);
    }

    private void wrap(String first, String next, String value) {
        StringBuilder line = new StringBuilder(first);
        boolean empty = true;
        for (String word : value.split(" ", -1)) {
            if (!empty && line.length() + 1 + word.length() > LINE_WIDTH) {
                text.append(line.toString().stripTrailing()).append('\n');
                line = new StringBuilder(next);
                empty = true;
            }
            line.append(empty ? "" : " ").append(word);
            empty = false;
        }
        text.append(line.toString().stripTrailing()).append('\n');
    }
}
