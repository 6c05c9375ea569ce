package org.bankfire.daemon.report.burn;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Column;
import org.bankfire.daemon.report.document.ReportContent.Fact;
import org.bankfire.daemon.report.document.ReportContent.Facts;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Section;
import org.bankfire.daemon.report.document.ReportContent.Table;

/** What the fit of a burn says: the comparison, the figures, where the heat went, and what it could not tell. */
final class FitSections {
    /** Beyond this a run of equal signs in what is left over is no chance: two-sided 95 % of the normal distribution. */
    private static final double CHANCE_Z = -1.96;
    /** A difference of times smaller than this is none, s. */
    private static final double SAME_S = 0.05;
    /** A difference of temperatures smaller than this is none, K. */
    private static final double SAME_K = 0.05;

    private final BurnFile file;
    private final Phrases phrases;

    FitSections(BurnFile file, Phrases phrases) {
        this.file = file;
        this.phrases = phrases;
    }

    /** In order; without a fit one that says why there is none. */
    List<Section> sections(BurnCharts charts) {
        if (file.fit() == null) {
            return List.of(
                    new Section("What this burn tells of the forge", List.of(new Paragraph(file.noFit(), true))));
        }
        if (!file.isFitted()) {
            String why = file.fitted().path("why").asText();
            return List.of(new Section(
                    "What this burn tells of the forge",
                    List.of(new Paragraph(
                            "Not fitted, because the fit did not come to rest"
                                    + (why.isBlank() ? "" : ": " + phrases.retold(why.strip()))
                                    + ". A longer burn, or one that cools down to the end, helps.",
                            true))));
        }
        List<Section> sections = new ArrayList<>();
        sections.add(new Section("As described, or not", comparison()));
        sections.add(new Section("What this burn tells of the forge", told()));
        sections.add(new Section("What it could not tell, and what would", untold()));
        List<Block> heat = charts.heat();
        if (!heat.isEmpty()) {
            sections.add(new Section("Where the heat went", heat));
        }
        return sections;
    }

    private List<Block> comparison() {
        JsonNode fit = file.fitted();
        List<Block> blocks = new ArrayList<>();
        String verdict = fit.path("verdict").asText();
        blocks.add(new Paragraph(
                verdict.isBlank() ? "There is no prediction to hold this burn against." : phrases.retold(verdict),
                true));
        List<List<String>> rows = new ArrayList<>();
        for (JsonNode milestone : fit.path("milestones")) {
            double measuredS = Phrases.number(milestone, "measuredS");
            double predictedS = Phrases.number(milestone, "predictedS");
            rows.add(List.of(
                    phrases.degrees(Phrases.number(milestone, "chamberC")),
                    Phrases.time(measuredS),
                    Phrases.time(predictedS),
                    later(measuredS, predictedS)));
        }
        JsonNode predicted = fit.path("predicted");
        JsonNode measured = fit.path("measured");
        double measuredS = Phrases.number(measured, "timeToTargetS");
        double predictedS = Phrases.number(predicted, "timeToTargetS");
        if (Double.isFinite(measuredS) || Double.isFinite(predictedS)) {
            rows.add(List.of(
                    "target, " + phrases.degrees(file.face().settings().targetC()),
                    Phrases.time(measuredS),
                    Phrases.time(predictedS) + timeBand(predicted),
                    later(measuredS, predictedS)));
        }
        double steadyC = Phrases.number(measured, "steadyC");
        double predictedC = Phrases.number(predicted, "steadyC");
        if (Double.isFinite(steadyC) || Double.isFinite(predictedC)) {
            rows.add(List.of(
                    "would settle" + gas(fit),
                    phrases.degrees(steadyC),
                    predictedSteady(predicted),
                    apart(steadyC, predictedC)));
        }
        if (!rows.isEmpty()) {
            blocks.add(new Table(
                    "Time from gas on to each temperature, and where the forge would settle by the fit. In brackets: the 95 %"
                            + " interval that the description leaves open.",
                    List.of(
                            new Column("reaches", false, 3),
                            new Column("measured", true, 2),
                            new Column("predicted", true, 4),
                            new Column("apart", true, 2.6)),
                    rows));
        }
        List<String> reasons = reasons(fit);
        if (!reasons.isEmpty()) {
            blocks.add(new Bullets(reasons));
        }
        return blocks;
    }

    private String gas(JsonNode fit) {
        double pascal = Phrases.number(fit, "steadyGasPa");
        return Double.isFinite(pascal) ? " at " + phrases.pressure(pascal) : "";
    }

    private String predictedSteady(JsonNode predicted) {
        double low = Phrases.number(predicted, "steadyLow95C");
        double high = Phrases.number(predicted, "steadyHigh95C");
        String band = Double.isFinite(low) && Double.isFinite(high)
                ? " (" + phrases.degrees(low) + " to " + phrases.degrees(high) + ")"
                : "";
        return phrases.degrees(Phrases.number(predicted, "steadyC")) + band;
    }

    private String apart(double steadyC, double predictedC) {
        return Double.isFinite(steadyC) && Double.isFinite(predictedC) ? phrases.difference(steadyC - predictedC) : "";
    }

    private static String timeBand(JsonNode predicted) {
        double low = Phrases.number(predicted, "timeToTargetLow95S");
        double high = Phrases.number(predicted, "timeToTargetHigh95S");
        if (!Double.isFinite(low)) {
            return "";
        }
        return Double.isFinite(high)
                ? " (" + Phrases.time(low) + " to " + Phrases.time(high) + ")"
                : " (from " + Phrases.time(low) + ", or never)";
    }

    private static String later(double measuredS, double predictedS) {
        double apart = measuredS - predictedS;
        if (!Double.isFinite(apart)) {
            return "";
        }
        return Math.abs(apart) < SAME_S
                ? "the same"
                : Phrases.time(Math.abs(apart)) + (apart > 0 ? " later" : " sooner");
    }

    private List<String> reasons(JsonNode fit) {
        List<String> reasons = new ArrayList<>();
        for (JsonNode reason : fit.path("explanations")) {
            List<String> effects = new ArrayList<>();
            double steadyK = Phrases.number(reason, "steadyK");
            double timeS = Phrases.number(reason, "timeToTargetS");
            if (Math.abs(steadyK) >= SAME_K) {
                effects.add("settles " + phrases.difference(Math.abs(steadyK)).replace("+", "")
                        + (steadyK > 0 ? " higher" : " lower"));
            }
            if (Math.abs(timeS) >= SAME_S) {
                effects.add("at target " + Phrases.time(Math.abs(timeS)) + (timeS > 0 ? " later" : " sooner"));
            }
            String what = effects.isEmpty() ? "changes nothing here" : String.join(", ", effects);
            reasons.add(Terms.of(reason.path("parameter").asText(), "1").name() + ": " + what + " ("
                    + (reason.path("beyondDoubt").asBoolean() ? "beyond doubt" : "within doubt") + ").");
        }
        return reasons;
    }

    private List<Block> told() {
        JsonNode fit = file.fitted();
        List<Fact> facts = new ArrayList<>();
        JsonNode loss = fit.path("lossCoefficient");
        facts.add(new Fact(
                "Loss coefficient at " + phrases.degrees(Phrases.number(loss, "atC")),
                Phrases.interval(
                        Phrases.number(loss, "valueWPerK"),
                        Phrases.number(loss, "low95"),
                        Phrases.number(loss, "high95"),
                        "W/K"),
                "lining and openings, soaked through, for each kelvin above the surroundings"));
        double constantS = Phrases.number(fit, "timeConstantS");
        facts.add(new Fact(
                "Time constant",
                Double.isFinite(constantS) ? Phrases.time(constantS) : "this burn does not tell it",
                "the soaked forge takes so long for 63 % of a small change of its gas"));
        facts.add(new Fact("Left unexplained", leftOver(fit), worth(fit)));
        List<List<String>> rows = new ArrayList<>();
        for (JsonNode parameter : fit.path("parameters")) {
            Terms terms = Terms.of(
                    parameter.path("name").asText(), parameter.path("unit").asText());
            double times = terms.times();
            rows.add(List.of(
                    terms.name() + (terms.meaning().isEmpty() ? "" : ": " + terms.meaning()),
                    Phrases.interval(
                            times * Phrases.number(parameter, "value"),
                            times * Phrases.number(parameter, "low95"),
                            times * Phrases.number(parameter, "high95"),
                            terms.unit()),
                    expected(times * Phrases.number(parameter, "expected")),
                    status(parameter.path("status").asText())));
        }
        Table table = new Table(
                "What the fit finds, with its 95 % interval in brackets; what the description expected; and whether the burn"
                        + " told it.",
                List.of(
                        new Column("of the forge", false, 4),
                        new Column("by the fit", true, 3.6),
                        new Column("expected", true, 1.4),
                        new Column("told", false, 2)),
                rows);
        return List.of(new Facts(facts), table);
    }

    private static String expected(double value) {
        return Double.isFinite(value) ? Phrases.fixed(value, value >= 10 ? 1 : 2) : "";
    }

    private static String status(String code) {
        return switch (code) {
            case "identified" -> "by this burn";
            case "prior" -> "by the description, hardly more";
            default -> "by nothing";
        };
    }

    private String leftOver(JsonNode fit) {
        double rmsK = Phrases.number(fit, "rmsResidualK");
        if (!Double.isFinite(rmsK)) {
            return "not known";
        }
        String pattern = Phrases.number(fit, "runsZ") < CHANCE_Z
                ? "it runs in stretches, so something small is not in the model"
                : "it scatters as chance does";
        return phrases.difference(rmsK).replace("+", "") + " in the root mean square; " + pattern;
    }

    private static String worth(JsonNode fit) {
        double effective = Phrases.number(fit, "effectiveSamples");
        return "fitted to " + fit.path("samples").asLong() + " readings"
                + (Double.isFinite(effective)
                        ? ", worth " + Phrases.fixed(effective, 0)
                                + " that do not repeat each other; the intervals reckon with those"
                        : "");
    }

    private List<Block> untold() {
        JsonNode fit = file.fitted();
        List<Fact> facts = new ArrayList<>();
        String advice = fit.path("lossCoefficient").path("advice").asText();
        if (!advice.isBlank()) {
            facts.add(new Fact("Loss coefficient", Phrases.sentence(phrases.retold(advice)), ""));
        }
        for (JsonNode parameter : fit.path("parameters")) {
            String status = parameter.path("status").asText();
            String would = parameter.path("advice").asText();
            if (status.equals("identified") && would.isBlank()) {
                continue;
            }
            facts.add(new Fact(
                    Terms.of(parameter.path("name").asText(), "1").name(),
                    would.isBlank()
                            ? "No further step is known that would tell it."
                            : "To know more: " + phrases.retold(would.strip()) + ".",
                    status.equals("identified") ? "" : "told " + status(status)));
        }
        return facts.isEmpty()
                ? List.of(new Paragraph("This burn told every figure that the fit looks for.", false))
                : List.of(new Facts(facts));
    }

    /** What must be known to read the fit's figures rightly. */
    List<String> remarks() {
        List<String> remarks = new ArrayList<>();
        if (file.isFitted()) {
            file.fitted().path("remarks").forEach(remark -> remarks.add(phrases.retold(remark.asText())));
        }
        return remarks;
    }
}
