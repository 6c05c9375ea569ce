package org.bankfire.daemon.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.Writer;
import java.time.Instant;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.burnfit.BurnFitResult.Comparison;
import org.bankfire.analysis.burnfit.BurnFitResult.Explanation;
import org.bankfire.analysis.burnfit.BurnFitResult.LedgerEntry;
import org.bankfire.analysis.burnfit.BurnFitResult.Milestone;
import org.bankfire.analysis.burnfit.BurnFitResult.Moment;
import org.bankfire.analysis.burnfit.FittedParameter;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;

/** The fit of a burn as JSON, on one line. Keys name their units; what a burn cannot tell is null. */
public final class FitJson {
    private static final JsonFactory JSON = new JsonFactory();

    private FitJson() {}

    /**
     * Writes a fit and a line break.
     *
     * @param forge the forge's id
     * @param start of the burn
     * @param end of what was fitted
     * @param fit what came of it
     * @param out stays open
     */
    public static void write(String forge, Instant start, Instant end, BurnFitResult fit, Writer out)
            throws IOException {
        try (JsonGenerator json = JSON.createGenerator(out)) {
            json.disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET);
            json.writeStartObject();
            json.writeStringField("forge", forge);
            json.writeStringField("start", start.toString());
            json.writeStringField("end", end.toString());
            json.writeNumberField("samples", fit.samples());
            Figures.number(json, "effectiveSamples", fit.effectiveSamples(), 1);
            json.writeStringField("model", "forge");
            Figures.number(json, "rmsResidualK", fit.rmsResidualK(), 3);
            Figures.number(json, "runsZ", fit.runsZ(), 2);
            json.writeBooleanField("converged", fit.converged());
            json.writeStringField("why", fit.why());
            parameters(json, fit);
            loss(json, fit.loss());
            Figures.number(json, "timeConstantS", fit.timeConstantS(), 0);
            ledger(json, fit);
            comparison(json, fit.comparison());
            known(json, fit.known());
            curve(json, fit);
            json.writeArrayFieldStart("remarks");
            for (String remark : fit.remarks()) {
                json.writeString(remark);
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        out.write('\n');
        out.flush();
    }

    private static void parameters(JsonGenerator json, BurnFitResult fit) throws IOException {
        json.writeArrayFieldStart("parameters");
        for (FittedParameter parameter : fit.parameters()) {
            json.writeStartObject();
            json.writeStringField("name", parameter.name());
            json.writeStringField("unit", parameter.unit());
            Figures.significant(json, "value", parameter.value());
            Figures.significant(json, "standardError", parameter.standardError());
            Figures.significant(json, "low95", parameter.low95());
            Figures.significant(json, "high95", parameter.high95());
            json.writeStringField("status", parameter.status().code());
            Figures.significant(json, "expected", parameter.expected());
            Figures.significant(json, "narrowedTo", parameter.narrowedTo());
            json.writeStringField("advice", parameter.advice());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    /** What later computations need of the fit; nothing when there is none. */
    private static void known(JsonGenerator json, KnownForge known) throws IOException {
        if (known.basis() == KnownForge.Basis.DESCRIBED) {
            return;
        }
        Figures.significant(json, "jetM", known.description().burner().jetDiameterM());
        json.writeArrayFieldStart("members");
        member(json, known.parameters());
        for (ForgeParameters parameters : known.members()) {
            member(json, parameters);
        }
        json.writeEndArray();
    }

    private static void member(JsonGenerator json, ForgeParameters parameters) throws IOException {
        json.writeStartArray();
        for (double value : parameters.inOrder()) {
            json.writeNumber(Figures.significant(value));
        }
        json.writeEndArray();
    }

    private static void loss(JsonGenerator json, BurnFitResult.Loss loss) throws IOException {
        json.writeObjectFieldStart("lossCoefficient");
        Figures.number(json, "atC", Figures.celsius(loss.atK()), 1);
        Figures.number(json, "valueWPerK", loss.wattsPerK().value(), 4);
        Figures.number(json, "low95", loss.wattsPerK().low95(), 4);
        Figures.number(json, "high95", loss.wattsPerK().high95(), 4);
        Figures.significant(json, "narrowedTo", loss.narrowedTo());
        json.writeStringField("advice", loss.advice());
        json.writeEndObject();
    }

    private static void ledger(JsonGenerator json, BurnFitResult fit) throws IOException {
        json.writeArrayFieldStart("ledger");
        for (LedgerEntry entry : fit.ledger()) {
            HeatLedger watts = entry.watts();
            json.writeStartObject();
            Figures.number(json, "fromS", entry.fromS(), 1);
            Figures.number(json, "atS", entry.toS(), 1);
            Figures.number(json, "inputW", watts.input(), 3);
            Figures.number(json, "flueW", watts.flue(), 3);
            Figures.number(json, "liningW", watts.lining(), 3);
            Figures.number(json, "openingsW", watts.openings(), 3);
            Figures.number(json, "stockW", watts.stock(), 3);
            Figures.number(json, "storedW", watts.stored(), 3);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void comparison(JsonGenerator json, Comparison comparison) throws IOException {
        json.writeObjectFieldStart("predicted");
        band(json, "timeToTarget", "S", comparison.predictedTimeToTargetS(), 1);
        band(json, "steady", "C", Figures.celsius(comparison.predictedSteadyK()), 1);
        json.writeEndObject();
        json.writeObjectFieldStart("measured");
        Figures.number(json, "timeToTargetS", comparison.measuredTimeToTargetS(), 1);
        Figures.number(json, "steadyC", Figures.celsius(comparison.fittedSteadyK()), 1);
        json.writeEndObject();
        Figures.number(json, "steadyGasPa", comparison.steadyGaugePa(), 0);
        json.writeArrayFieldStart("milestones");
        for (Milestone milestone : comparison.milestones()) {
            json.writeStartObject();
            Figures.number(json, "chamberC", Figures.celsius(milestone.chamberK()), 1);
            Figures.number(json, "measuredS", milestone.measuredS(), 1);
            Figures.number(json, "predictedS", milestone.predictedS(), 1);
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("explanations");
        for (Explanation explanation : comparison.explanations()) {
            json.writeStartObject();
            json.writeStringField("parameter", explanation.parameter());
            Figures.number(json, "steadyK", explanation.steadyK(), 1);
            Figures.number(json, "timeToTargetS", explanation.timeToTargetS(), 1);
            json.writeBooleanField("beyondDoubt", explanation.beyondDoubt());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeStringField("verdict", comparison.verdict());
    }

    private static void band(JsonGenerator json, String name, String unit, Band band, int digits) throws IOException {
        Figures.number(json, name + unit, band.value(), digits);
        Figures.number(json, name + "Low95" + unit, band.low95(), digits);
        Figures.number(json, name + "High95" + unit, band.high95(), digits);
    }

    private static void curve(JsonGenerator json, BurnFitResult fit) throws IOException {
        json.writeArrayFieldStart("curve");
        for (Moment moment : fit.curve()) {
            json.writeStartObject();
            Figures.number(json, "tS", moment.timeS(), 2);
            Figures.number(json, "measuredC", Figures.celsius(moment.measuredK()), 2);
            Figures.number(json, "fittedC", Figures.celsius(moment.fittedK()), 2);
            Figures.number(
                    json, "predictedC", Figures.celsius(moment.predictedK().value()), 2);
            Figures.number(json, "low95C", Figures.celsius(moment.predictedK().low95()), 2);
            Figures.number(json, "high95C", Figures.celsius(moment.predictedK().high95()), 2);
            json.writeEndObject();
        }
        json.writeEndArray();
    }
}
