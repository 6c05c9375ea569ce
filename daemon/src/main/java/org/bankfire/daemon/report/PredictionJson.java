package org.bankfire.daemon.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.Writer;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.Prediction.BarSoak;
import org.bankfire.analysis.prediction.Prediction.Idle;
import org.bankfire.analysis.prediction.Prediction.Point;
import org.bankfire.analysis.prediction.Prior;

/**
 * A prediction as JSON. Keys name their units; what the forge does not reach is null. Every figure with a band has two
 * more keys, {@code low95} and {@code high95}.
 */
public final class PredictionJson {
    private static final JsonFactory JSON = new JsonFactory();

    private PredictionJson() {}

    /** Writes a prediction and a line break. */
    public static void write(ForgeDescription forge, Prediction prediction, Writer out) throws IOException {
        try (JsonGenerator json = JSON.createGenerator(out)) {
            json.disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET);
            write(forge, prediction, json);
        }
        out.write('\n');
        out.flush();
    }

    /** Writes a prediction as one value of a larger document. */
    static void write(ForgeDescription forge, Prediction prediction, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("forge", forge.id());
        curve(json, prediction);
        band(json, "timeToTarget", "S", prediction.timeToTargetS(), 1);
        band(json, "steady", "C", Figures.celsius(prediction.steadyK()), 1);
        band(json, "steadyShell", "C", Figures.celsius(prediction.shellK()), 1);
        idle(json, prediction.idle());
        flame(json, prediction);
        band(json, "loss", "WPerK", prediction.lossWPerK(), 4);
        ledger(json, prediction);
        if (prediction.bar().isPresent()) {
            bar(json, prediction.bar().get());
        }
        priors(json, prediction);
        json.writeEndObject();
    }

    private static void curve(JsonGenerator json, Prediction prediction) throws IOException {
        json.writeArrayFieldStart("curve");
        for (Point point : prediction.curve()) {
            Band chamberC = Figures.celsius(point.chamberK());
            json.writeStartObject();
            Figures.number(json, "tS", point.timeS(), 3);
            Figures.number(json, "gasPa", point.gaugePa(), 1);
            Figures.number(json, "chamberC", chamberC.value(), 2);
            Figures.number(json, "low95C", chamberC.low95(), 2);
            Figures.number(json, "high95C", chamberC.high95(), 2);
            Figures.number(json, "hotFaceC", Figures.celsius(point.hotFaceK()), 2);
            Figures.number(json, "shellC", Figures.celsius(point.shellK()), 2);
            Figures.number(json, "gasKg", point.gasKg(), 6);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void band(JsonGenerator json, String name, String unit, Band band, int digits) throws IOException {
        Figures.number(json, name + unit, band.value(), digits);
        Figures.number(json, name + "Low95" + unit, band.low95(), digits);
        Figures.number(json, name + "High95" + unit, band.high95(), digits);
    }

    private static void idle(JsonGenerator json, Idle idle) throws IOException {
        json.writeObjectFieldStart("idle");
        Figures.number(json, "targetC", Figures.celsius(idle.targetK()), 2);
        band(json, "pressure", "Pa", idle.soakedPa(), 0);
        Figures.number(json, "kgPerHour", idle.soakedKgPerHour().value(), 4);
        Figures.number(json, "kgPerHourLow95", idle.soakedKgPerHour().low95(), 4);
        Figures.number(json, "kgPerHourHigh95", idle.soakedKgPerHour().high95(), 4);
        band(json, "firstPressure", "Pa", idle.firstPa(), 0);
        Figures.number(json, "firstKgPerHour", idle.firstKgPerHour(), 4);
        json.writeEndObject();
    }

    private static void flame(JsonGenerator json, Prediction prediction) throws IOException {
        json.writeObjectFieldStart("flame");
        Figures.number(json, "mixture", prediction.flame().mixture(), 4);
        Figures.number(json, "heatInputW", prediction.flame().heatInputW(), 1);
        Figures.number(json, "kgPerHour", prediction.flame().kgPerHour(), 4);
        Figures.number(json, "adiabaticC", Figures.celsius(prediction.flame().adiabaticK()), 1);
        Figures.number(json, "carbonMonoxidePpm", prediction.flame().carbonMonoxideFraction() * 1e6, 0);
        json.writeEndObject();
    }

    private static void ledger(JsonGenerator json, Prediction prediction) throws IOException {
        json.writeArrayFieldStart("ledger");
        for (Point point : prediction.curve()) {
            HeatLedger ledger = point.ledgerW();
            json.writeStartObject();
            Figures.number(json, "atS", point.timeS(), 3);
            Figures.number(json, "inputW", ledger.input(), 3);
            Figures.number(json, "flueW", ledger.flue(), 3);
            Figures.number(json, "liningW", ledger.lining(), 3);
            Figures.number(json, "openingsW", ledger.openings(), 3);
            Figures.number(json, "stockW", ledger.stock(), 3);
            Figures.number(json, "storedW", ledger.stored(), 3);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void bar(JsonGenerator json, BarSoak bar) throws IOException {
        json.writeObjectFieldStart("bar");
        Figures.number(json, "inS", bar.inS(), 3);
        Figures.number(json, "biot", bar.biot(), 4);
        Figures.number(json, "soakS", bar.soakS(), 1);
        json.writeArrayFieldStart("centreC");
        for (double kelvin : bar.centreK()) {
            json.writeNumber(Figures.rounded(Figures.celsius(kelvin), 2));
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void priors(JsonGenerator json, Prediction prediction) throws IOException {
        json.writeObjectFieldStart("band");
        json.writeNumberField("members", prediction.members());
        json.writeArrayFieldStart("priors");
        for (Prior prior : prediction.priors()) {
            json.writeStartObject();
            json.writeStringField("name", prior.name());
            Figures.number(json, "relativeStandardDeviation", prior.relativeStandardDeviation(), 4);
            json.writeStringField("reason", prior.reason());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }
}
