package org.bankfire.daemon.report.burn;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Fact;
import org.bankfire.daemon.report.document.ReportContent.Facts;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Section;

/** Gas by the jet and by the scale, what it cost, and whether the two agree. */
final class GasSection {
    /** Coverage factor of a two-sided 95 % interval of the normal distribution. */
    static final double TWO_SIDED_95 = 1.96;

    private static final double S_PER_H = 3_600;

    private final BurnFile file;
    private final double estimatedKg;
    private final double estimateUncertaintyKg;
    private final double weighedKg;
    private final double weighedUncertaintyKg;

    GasSection(BurnFile file) {
        this.file = file;
        Burner burner = file.face().description().burner();
        estimatedKg = file.gas().isEmpty() ? Double.NaN : file.burn().gasUsedKg();
        estimateUncertaintyKg = estimatedKg * burner.dischargeStandardUncertainty() / burner.dischargeCoefficient();
        weighedKg = file.weighed().kg();
        weighedUncertaintyKg = file.weighed().standardUncertaintyKg();
    }

    /** In a few words. */
    String inShort() {
        double bestKg = Double.isFinite(weighedKg) ? weighedKg : estimatedKg;
        if (!Double.isFinite(bestKg)) {
            return file.gas().isEmpty()
                    ? "not known: neither gas pressure nor the cylinder’s weight was measured"
                    : "not known";
        }
        String how = Double.isFinite(weighedKg) ? "weighed" : "by jet and pressure";
        return interval(bestKg, Double.isFinite(weighedKg) ? weighedUncertaintyKg : estimateUncertaintyKg) + ", " + how
                + cost(bestKg);
    }

    private String cost(double kg) {
        double price = file.face().settings().gasPricePerKg();
        return Double.isFinite(price) && price > 0
                ? ", " + Phrases.fixed(kg * price, 2) + " " + file.face().currency()
                : "";
    }

    Section section() {
        List<Fact> facts = new ArrayList<>();
        facts.add(
                Double.isFinite(estimatedKg)
                        ? new Fact(
                                "By jet and pressure",
                                interval(estimatedKg, estimateUncertaintyKg) + rate(estimatedKg),
                                "95 % of what the jet’s discharge leaves open; a wrong bore or zero of the pressure sensor is"
                                        + " not in it")
                        : new Fact(
                                "By jet and pressure",
                                "not known",
                                file.gas().isEmpty()
                                        ? "no gas pressure was measured; a pressure sensor between regulator and jet tells it"
                                        : "the gas of this record was not counted"));
        facts.add(
                Double.isFinite(weighedKg)
                        ? new Fact(
                                "By the scale",
                                interval(weighedKg, weighedUncertaintyKg) + rate(weighedKg),
                                "cylinder before less cylinder after, 95 %")
                        : new Fact(
                                "By the scale",
                                "not weighed",
                                "the cylinder weighed before and after tells the gas without the jet"));
        double price = file.face().settings().gasPricePerKg();
        boolean priced = Double.isFinite(price) && price > 0;
        double bestKg = Double.isFinite(weighedKg) ? weighedKg : estimatedKg;
        if (Double.isFinite(bestKg)) {
            facts.add(
                    priced
                            ? new Fact(
                                    "Cost",
                                    Phrases.fixed(bestKg * price, 2) + " "
                                            + file.face().currency(),
                                    "at " + Phrases.fixed(price, 2) + " "
                                            + file.face().currency() + "/kg"
                                            + (Double.isFinite(weighedKg) ? ", of the gas weighed" : ""))
                            : new Fact("Cost", "not known", "the configuration tells no price of gas"));
        }
        List<Block> blocks = new ArrayList<>(List.of(new Facts(facts)));
        if (Double.isFinite(estimatedKg) && Double.isFinite(weighedKg)) {
            blocks.add(new Paragraph(agreement(), false));
        }
        return new Section("Gas", blocks);
    }

    private String agreement() {
        double apartKg = estimatedKg - weighedKg;
        double openKg = TWO_SIDED_95 * Math.hypot(estimateUncertaintyKg, weighedUncertaintyKg);
        String apart = Phrases.fixed(Math.abs(apartKg), Phrases.digits(openKg)) + " kg "
                + (apartKg > 0 ? "more" : "less") + " by the jet than by the scale";
        return Math.abs(apartKg) <= openKg
                ? "The two agree: " + apart + ", within the " + Phrases.fixed(openKg, Phrases.digits(openKg))
                        + " kg that both leave open (95 %)."
                : "The two do not agree: " + apart + ", and both together leave only "
                        + Phrases.fixed(openKg, Phrases.digits(openKg))
                        + " kg open (95 %). Look at the jet’s bore and discharge, the zero of the pressure sensor, and for"
                        + " leaks.";
    }

    private static String interval(double kg, double standardUncertaintyKg) {
        double half = TWO_SIDED_95 * standardUncertaintyKg;
        return Double.isFinite(half) && half > 0
                ? Phrases.interval(kg, Math.max(0, kg - half), kg + half, "kg")
                : Phrases.fixed(kg, 3) + "\u00a0kg";
    }

    private String rate(double kg) {
        WallTime end = file.burn().end();
        double burntS =
                end == null ? file.lengthS() : end.secondsSince(file.burn().start());
        return burntS > 0 ? ", " + Phrases.fixed(kg / burntS * S_PER_H, 2) + "\u00a0kg/h in the mean" : "";
    }
}
