package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.Locale;
import org.bankfire.analysis.outlook.Doubt;
import org.bankfire.analysis.outlook.IdleAdvice;
import org.bankfire.analysis.outlook.IdleAdvice.Full;
import org.bankfire.analysis.outlook.IdleAdvice.Hold;
import org.bankfire.analysis.outlook.IdleAdvice.HoldPoint;
import org.bankfire.analysis.outlook.IdleAdvice.Pause;
import org.bankfire.analysis.outlook.Outlook;
import org.bankfire.analysis.outlook.Score;
import org.bankfire.analysis.outlook.Settling;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.dashboard.source.OutlookBook.Seen;
import org.jspecify.annotations.Nullable;

/** An outlook as JSON. A figure with an interval is an object; what is unknown, never or unbounded is null. */
final class OutlookJson {
    private static final int KELVIN_DIGITS = 1;
    private static final int PASCAL_DIGITS = 0;
    private static final int SECOND_DIGITS = 0;
    private static final int GAS_DIGITS = 4;
    private static final int MONEY_DIGITS = 3;

    private OutlookJson() {}

    static void write(JsonGenerator json, @Nullable Seen seen, Score score) throws IOException {
        if (seen == null) {
            json.writeNullField("outlook");
        } else {
            json.writeObjectFieldStart("outlook");
            outlook(json, seen);
            json.writeEndObject();
        }
        score(json, score);
    }

    private static void outlook(JsonGenerator json, Seen seen) throws IOException {
        Outlook outlook = seen.outlook();
        json.writeStringField("burn", seen.burnId());
        json.writeStringField("start", seen.start().toString());
        json.writeBooleanField("hasFit", seen.hasFit());
        Json.number(json, "atS", outlook.atS(), 1);
        json.writeStringField("basis", outlook.basis().name().toLowerCase(Locale.ROOT));
        Json.number(json, "chamberC", celsius(outlook.chamberK()), KELVIN_DIGITS);
        Json.number(json, "gaugePa", outlook.gaugePa(), PASCAL_DIGITS);
        Json.number(json, "touchedS", outlook.touchedS(), 1);
        Json.number(json, "beforePa", outlook.beforePa(), PASCAL_DIGITS);
        Json.number(json, "missK", outlook.missK(), KELVIN_DIGITS);
        if (outlook.settling().isPresent()) {
            settling(json, outlook.settling().get());
        } else {
            json.writeNullField("settling");
        }
        if (outlook.idle().isPresent()) {
            idle(json, outlook.idle().get());
        } else {
            json.writeNullField("idle");
        }
        json.writeArrayFieldStart("doubts");
        for (Doubt doubt : outlook.doubts()) {
            json.writeStartObject();
            json.writeStringField("code", doubt.code());
            json.writeStringField("words", doubt.words());
            json.writeBooleanField("silencing", doubt.isSilencing());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void settling(JsonGenerator json, Settling settling) throws IOException {
        json.writeObjectFieldStart("settling");
        Json.number(json, "gaugePa", settling.gaugePa(), PASCAL_DIGITS);
        Json.number(json, "steadyKPerMin", settling.steadyKPerMin(), 2);
        json.writeBooleanField("already", settling.already());
        celsius(json, "steadyC", settling.steadyK());
        band(json, "untilS", settling.untilS(), SECOND_DIGITS);
        celsius(json, "soakedC", settling.soakedK());
        json.writeArrayFieldStart("curve");
        for (Settling.Point point : settling.curve()) {
            json.writeStartObject();
            Json.number(json, "aheadS", point.aheadS(), SECOND_DIGITS);
            celsius(json, "chamberC", point.chamberK());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void idle(JsonGenerator json, IdleAdvice idle) throws IOException {
        json.writeObjectFieldStart("idle");
        json.writeStringField("kind", idle.kind().code());
        Json.number(json, "targetC", celsius(idle.targetK()), KELVIN_DIGITS);
        Json.number(json, "advisedPa", idle.advisedPa(), PASCAL_DIGITS);
        Json.number(json, "turnPa", idle.turnPa(), PASCAL_DIGITS);
        band(json, "aboveTargetK", idle.aboveTargetK(), KELVIN_DIGITS);
        band(json, "toTargetS", idle.toTargetS(), SECOND_DIGITS);
        hold(json, "now", idle.now());
        hold(json, "advised", idle.advised());
        hold(json, "soaked", idle.soaked());
        Full full = idle.full();
        json.writeObjectFieldStart("full");
        Json.number(json, "pressurePa", full.pressurePa(), PASCAL_DIGITS);
        Json.number(json, "kgPerHour", full.kgPerHour(), GAS_DIGITS);
        Json.number(json, "costPerHour", full.costPerHour(), MONEY_DIGITS);
        json.writeEndObject();
        pause(json, idle.pause());
        json.writeArrayFieldStart("curve");
        for (HoldPoint point : idle.curve()) {
            json.writeStartObject();
            Json.number(json, "aheadS", point.aheadS(), SECOND_DIGITS);
            band(json, "pressurePa", point.pressurePa(), PASCAL_DIGITS);
            Json.number(json, "kgPerHour", point.kgPerHour(), GAS_DIGITS);
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void hold(JsonGenerator json, String name, Hold hold) throws IOException {
        json.writeObjectFieldStart(name);
        band(json, "pressurePa", hold.pressurePa(), PASCAL_DIGITS);
        band(json, "kgPerHour", hold.kgPerHour(), GAS_DIGITS);
        Json.number(json, "costPerHour", hold.costPerHour(), MONEY_DIGITS);
        Json.number(json, "savedKgPerHour", hold.savedKgPerHour(), GAS_DIGITS);
        Json.number(json, "savedPerHour", hold.savedPerHour(), MONEY_DIGITS);
        json.writeEndObject();
    }

    private static void pause(JsonGenerator json, Pause pause) throws IOException {
        json.writeObjectFieldStart("pause");
        Json.number(json, "pauseS", pause.pauseS(), SECOND_DIGITS);
        band(json, "idleKg", pause.idleKg(), GAS_DIGITS);
        band(json, "relightKg", pause.relightKg(), GAS_DIGITS);
        band(json, "relightS", pause.relightS(), SECOND_DIGITS);
        band(json, "savedKg", pause.savedKg(), GAS_DIGITS);
        Json.number(json, "saved", pause.saved(), MONEY_DIGITS);
        Json.number(json, "breakEvenS", pause.breakEvenS(), SECOND_DIGITS);
        json.writeBooleanField("neverWorth", pause.breakEvenS() == Double.POSITIVE_INFINITY);
        json.writeEndObject();
    }

    private static void score(JsonGenerator json, Score score) throws IOException {
        json.writeObjectFieldStart("score");
        json.writeNumberField("count", score.count());
        Json.number(json, "meanErrorK", score.meanErrorK(), KELVIN_DIGITS);
        Json.number(json, "rmsErrorK", score.rmsErrorK(), KELVIN_DIGITS);
        Json.number(json, "shareInBand", score.shareInBand(), 3);
        json.writeArrayFieldStart("latest");
        for (Score.Compared compared : score.latest()) {
            json.writeStartObject();
            Json.number(json, "beforePa", compared.beforePa(), PASCAL_DIGITS);
            Json.number(json, "gaugePa", compared.gaugePa(), PASCAL_DIGITS);
            Json.number(json, "madeS", compared.madeS(), SECOND_DIGITS);
            Json.number(json, "dueS", compared.dueS(), SECOND_DIGITS);
            celsius(json, "forecastC", compared.forecastK());
            Json.number(json, "happenedC", celsius(compared.happenedK()), KELVIN_DIGITS);
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static double celsius(double kelvin) {
        return kelvin - Constants.ZERO_CELSIUS_K;
    }

    private static void celsius(JsonGenerator json, String name, Band kelvin) throws IOException {
        Band celsius = new Band(celsius(kelvin.value()), celsius(kelvin.low95()), celsius(kelvin.high95()));
        band(json, name, celsius, KELVIN_DIGITS);
    }

    private static void band(JsonGenerator json, String name, Band band, int digits) throws IOException {
        json.writeObjectFieldStart(name);
        Json.number(json, "value", band.value(), digits);
        Json.number(json, "low95", band.low95(), digits);
        Json.number(json, "high95", band.high95(), digits);
        json.writeEndObject();
    }
}
