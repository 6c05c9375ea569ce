package org.bankfire.daemon.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.CarryOver.Learnt;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.PredictedChange;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.config.LayerText;

/** What-if as JSON: what may be changed, and what a change would do. */
public final class WhatIfJson {
    private static final JsonFactory JSON = new JsonFactory();
    /** Of °C: the reader's scale of temperatures. */
    private static final double ZERO_C_K = -Figures.celsius(0);

    private WhatIfJson() {}

    /**
     * All that an answer tells.
     *
     * @param today the forge
     * @param changed as it would be
     * @param basis what it rests on
     * @param was today's prediction
     * @param is that of the changed forge
     * @param learnt what became of what burns have told
     * @param set keys and values that make the changed forge of the configured one
     * @param doubts one line each
     */
    public record Answer(
            ForgeConfig today,
            ForgeConfig changed,
            KnownForge.Basis basis,
            Prediction was,
            Prediction is,
            List<Learnt> learnt,
            Map<String, String> set,
            List<String> doubts) {
        public Answer {
            learnt = List.copyOf(learnt);
            set = Map.copyOf(set);
            doubts = List.copyOf(doubts);
        }
    }

    private interface Members {
        void write(JsonGenerator json) throws IOException;
    }

    private static String object(Members members) {
        StringWriter out = new StringWriter();
        try (JsonGenerator json = JSON.createGenerator(out)) {
            json.writeStartObject();
            members.write(json);
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException("writing JSON to memory", e);
        }
        return out.toString();
    }

    private static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static void strings(JsonGenerator json, String name, Iterable<String> texts) throws IOException {
        json.writeArrayFieldStart(name);
        for (String text : texts) {
            json.writeString(text);
        }
        json.writeEndArray();
    }

    /** Two predictions and their differences. */
    public static String answer(Answer told) {
        PredictedChange change = PredictedChange.between(told.was(), told.is());
        return object(json -> {
            json.writeStringField("forge", told.today().id());
            json.writeStringField("basis", word(told.basis()));
            json.writeFieldName("today");
            PredictionJson.write(told.today().description(), told.was(), json);
            json.writeFieldName("changed");
            PredictionJson.write(told.changed().description(), told.is(), json);
            json.writeArrayFieldStart("differences");
            difference(json, "timeToTarget", "s", change.timeToTargetS(), 1);
            difference(json, "steady", "K", change.steadyK(), 1);
            difference(json, "shell", "K", change.shellK(), 1);
            difference(json, "loss", "W/K", change.lossWPerK(), 4);
            difference(json, "idlePressure", "Pa", change.soakedPa(), 0);
            difference(json, "idleGas", "kg/h", change.soakedKgPerHour(), 4);
            json.writeEndArray();
            json.writeArrayFieldStart("learnt");
            for (Learnt learnt : told.learnt()) {
                json.writeStartObject();
                json.writeStringField("name", learnt.name());
                Figures.number(json, "today", learnt.today(), 4);
                Figures.number(json, "changed", learnt.changed(), 4);
                json.writeStringField("fate", word(learnt.fate()));
                json.writeStringField("why", learnt.why());
                json.writeEndObject();
            }
            json.writeEndArray();
            strings(
                    json,
                    "set",
                    told.set().entrySet().stream()
                            .map(each -> each.getKey() + "=" + each.getValue())
                            .sorted()
                            .toList());
            strings(json, "doubts", told.doubts());
        });
    }

    private static void difference(JsonGenerator json, String figure, String unit, Band by, int digits)
            throws IOException {
        json.writeStartObject();
        json.writeStringField("figure", figure);
        json.writeStringField("unit", unit);
        Figures.number(json, "by", by.value(), digits);
        Figures.number(json, "low95", by.low95(), digits);
        Figures.number(json, "high95", by.high95(), digits);
        json.writeBooleanField("told", PredictedChange.isBeyondDoubt(by));
        json.writeEndObject();
    }

    /** What may be changed, and how it is. */
    public static String keys(
            ForgeConfig configured,
            ForgeConfig today,
            Map<String, String> fromLog,
            KnownForge.Basis basis,
            List<String> doubts) {
        ForgeDescription forge = today.description();
        Burner burner = forge.burner();
        return object(json -> {
            json.writeStringField("forge", configured.id());
            json.writeStringField("basis", word(basis));
            json.writeStringField("currency", today.currency());
            Figures.number(json, "gasPricePerKg", today.monitor().gasPricePerKg(), 6);
            json.writeArrayFieldStart("keys");
            Keys keys = new Keys(json, fromLog);
            keys.put(
                    "target",
                    "temperature",
                    "degC",
                    Figures.celsius(forge.targetK()),
                    celsius(ForgeDescription.TARGET_K));
            keys.put(
                    "ambient",
                    "temperature",
                    "degC",
                    Figures.celsius(forge.ambientK()),
                    celsius(ForgeDescription.AMBIENT_K));
            keys.put("altitude", "altitude", "m", forge.altitudeM(), ForgeDescription.ALTITUDE_M);
            keys.put("burner.jet", "length", "mm", 1e3 * burner.jetDiameterM(), milli(Burner.JET_M));
            keys.put("burner.throat", "length", "mm", 1e3 * burner.throatDiameterM(), milli(Burner.THROAT_M));
            keys.put("burner.choke", "share", "%", 100 * today.throat().choke(), new Range(0, 95));
            keys.put("burner.obstruction", "share", "%", 100 * today.throat().obstruction(), new Range(0, 95));
            keys.put("burner.heat-up-pressure", "pressure", "Pa", burner.heatUpPressurePa(), Burner.HEAT_UP_PA);
            json.writeEndArray();
            fuels(json, burner.fuel());
            lining(json, forge.lining());
            openings(json, forge.openings());
            strings(json, "doubts", doubts);
        });
    }

    private static Range celsius(Range kelvin) {
        return new Range(kelvin.low() - ZERO_C_K, kelvin.high() - ZERO_C_K);
    }

    private static Range milli(Range metres) {
        return new Range(1e3 * metres.low(), 1e3 * metres.high());
    }

    /** Writes keys that hold a figure. */
    private record Keys(JsonGenerator json, Map<String, String> fromLog) {
        void put(String key, String quantity, String unit, double value, Range allowed) throws IOException {
            json.writeStartObject();
            json.writeStringField("key", key);
            json.writeStringField("quantity", quantity);
            json.writeStringField("unit", unit);
            Figures.number(json, "value", value, 6);
            Figures.number(json, "low", allowed.low(), 6);
            Figures.number(json, "high", allowed.high(), 6);
            json.writeBooleanField("fromLog", fromLog.containsKey(key));
            json.writeEndObject();
        }
    }

    private static void fuels(JsonGenerator json, Fuel fuel) throws IOException {
        json.writeStringField("fuel", fuel.name());
        strings(json, "fuels", Fuel.known().stream().map(Fuel::name).toList());
    }

    private static void lining(JsonGenerator json, List<Layer> lining) throws IOException {
        json.writeArrayFieldStart("lining");
        for (Layer layer : lining) {
            json.writeStartObject();
            json.writeStringField("material", layer.material().name());
            Figures.number(json, "thicknessMm", 1e3 * layer.thicknessM(), 6);
            json.writeStringField("described", LayerText.ownFigures(layer.material()));
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("materials");
        for (String name : Materials.names()) {
            Material material = Materials.find(name).orElseThrow();
            json.writeStartObject();
            json.writeStringField("name", name);
            Figures.number(json, "serviceLimitC", Figures.celsius(material.serviceLimitK()), 0);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void openings(JsonGenerator json, List<Opening> openings) throws IOException {
        json.writeArrayFieldStart("openings");
        for (Opening opening : openings) {
            json.writeStartObject();
            json.writeStringField("name", opening.name());
            Figures.number(json, "widthMm", 1e3 * opening.widthM(), 6);
            Figures.number(json, "heightMm", 1e3 * opening.heightM(), 6);
            json.writeBooleanField("plug", opening.plugged());
            json.writeEndObject();
        }
        json.writeEndArray();
    }
}
