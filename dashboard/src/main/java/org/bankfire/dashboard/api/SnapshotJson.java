package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.monitor.ForgeConditions;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.steady.Steadiness;
import org.jspecify.annotations.Nullable;

/** A forge's snapshot as the page reads it: temperatures in °C, pressures in Pa, flows in kg/h. */
public final class SnapshotJson {
    private static final double SECONDS_PER_HOUR = 3_600;

    private SnapshotJson() {}

    /**
     * One snapshot.
     *
     * @param serverTime the daemon's clock, against which the age of readings is told
     * @param gasPricePerKg in the user's currency; NaN when not told
     */
    public static byte[] of(ForgeSnapshot snapshot, WallTime serverTime, double gasPricePerKg) {
        return Json.object(json -> {
            json.writeStringField("forge", snapshot.forge());
            Json.time(json, snapshot.time());
            json.writeNumberField("serverT", serverTime.epochSeconds());
            json.writeStringField("phase", snapshot.phase().code());
            json.writeStringField("flame", snapshot.flame().code());
            Json.number(json, "flameOutProbability", snapshot.flameOutProbability(), 3);
            reading(json, "chamber", snapshot.chamber(), Unit.CELSIUS);
            Json.number(json, "chamberRateKPerMin", snapshot.chamberRateKPerMin(), 3);
            Json.number(json, "chamberRateStandardErrorKPerMin", snapshot.chamberRateStandardErrorKPerMin(), 3);
            steadiness(json, snapshot);
            reading(json, "gas", snapshot.gas(), Unit.PASCAL);
            Json.number(json, "gasFlowKgPerHour", snapshot.gasFlowKgPerS() * SECONDS_PER_HOUR, 4);
            Json.number(json, "gasFlowRelativeUncertainty", snapshot.gasFlowRelativeUncertainty(), 4);
            ledger(json, snapshot);
            burn(json, "burn", snapshot.burn(), gasPricePerKg);
            conditions(json, snapshot.conditions());
            json.writeFieldName("alarms");
            alarms(json, snapshot.alarms());
            json.writeArrayFieldStart("latest");
            for (Reading reading : snapshot.latest()) {
                reading(json, reading, reading.unit());
            }
            json.writeEndArray();
        });
    }

    // Flue, lining, stock and stored heat cannot be told apart by the monitor; what is left over is said to be that.
    private static void ledger(JsonGenerator json, ForgeSnapshot snapshot) throws IOException {
        json.writeObjectFieldStart("ledger");
        Json.number(json, "inputW", snapshot.heatInputW(), 1);
        Json.number(json, "openingsW", snapshot.openingsW(), 1);
        Json.number(json, "restW", snapshot.heatInputW() - snapshot.openingsW(), 1);
        json.writeEndObject();
    }

    private static void steadiness(JsonGenerator json, ForgeSnapshot snapshot) throws IOException {
        Steadiness now = snapshot.steadiness();
        WallTime time = snapshot.time();
        String since = time == null || Double.isNaN(now.steadyForS())
                ? null
                : time.plusSeconds(-now.steadyForS()).toString();
        json.writeObjectFieldStart("steadiness");
        json.writeStringField("state", now.state().code());
        Json.number(json, "slopeKPerMin", now.slopeKPerMin(), 3);
        Json.number(json, "halfWidthKPerMin", now.halfWidthKPerMin(), 3);
        Json.number(json, "windowS", now.windowS(), 0);
        Json.number(json, "bandKPerMin", now.bandKPerMin(), 3);
        Json.text(json, "since", since);
        Json.number(json, "steadyForS", now.steadyForS(), 0);
        Json.number(json, "tellsInS", now.tellsInS(), 0);
        json.writeStringField("wouldTell", now.wouldTell());
        json.writeEndObject();
    }

    private static void conditions(JsonGenerator json, ForgeConditions now) throws IOException {
        json.writeObjectFieldStart("conditions");
        Json.number(json, "gasLeftMinutes", now.gasLeft().best(), 1);
        Json.number(json, "gasLeftLowMinutes", now.gasLeft().low(), 1);
        // Null as well when it may never come to that: JSON has no infinity.
        Json.number(json, "gasLeftHighMinutes", now.gasLeft().high(), 1);
        Json.number(json, "gasLeftToPa", now.gasLeftToPa(), 0);
        Json.number(json, "pressureFlutter", now.pressureFlutter(), 5);
        Json.number(json, "pressureFlutterBaseline", now.pressureFlutterBaseline(), 5);
        Json.number(json, "temperatureFlutterK", now.temperatureFlutterK(), 3);
        Json.number(json, "temperatureFlutterBaselineK", now.temperatureFlutterBaselineK(), 3);
        json.writeNumberField("firstFireStep", now.firstFireStep());
        Json.number(json, "firstFireHeldS", now.firstFireHeldS(), 0);
        Json.number(json, "predictedShellC", now.predictedShellC(), 1);
        Json.number(json, "predictedShellStandardUncertaintyK", now.predictedShellStandardUncertaintyK(), 1);
        Json.number(json, "wireHours", now.wireHours(), 2);
        Json.number(json, "wireLimitC", now.wireLimitC(), 0);
        json.writeEndObject();
    }

    private static void reading(JsonGenerator json, String name, @Nullable Reading reading, Unit unit)
            throws IOException {
        json.writeFieldName(name);
        if (reading == null) {
            json.writeNull();
        } else {
            reading(json, reading, reading.unit().quantity() == unit.quantity() ? unit : reading.unit());
        }
    }

    private static void reading(JsonGenerator json, Reading reading, Unit unit) throws IOException {
        json.writeStartObject();
        json.writeStringField("channel", reading.channel().name());
        double value =
                reading.unit().equals(unit) ? reading.value() : reading.unit().convert(reading.value(), unit);
        Json.number(json, "value", value, 6);
        json.writeStringField("unit", unit.symbol());
        double scale = reading.unit().factor() / unit.factor();
        Json.number(json, "standardUncertainty", reading.standardUncertainty() * scale, 6);
        json.writeStringField("quality", reading.quality().code());
        json.writeStringField("level", reading.quality().level().name().toLowerCase(java.util.Locale.ROOT));
        json.writeStringField("qualityInWords", reading.quality().words());
        Json.time(json, reading.sourceTime());
        json.writeEndObject();
    }

    static void burn(JsonGenerator json, String name, @Nullable Burn burn, double gasPricePerKg) throws IOException {
        json.writeFieldName(name);
        if (burn == null) {
            json.writeNull();
        } else {
            burn(json, burn, gasPricePerKg);
        }
    }

    static void burn(JsonGenerator json, Burn burn, double gasPricePerKg) throws IOException {
        json.writeStartObject();
        json.writeStringField("id", burn.id());
        json.writeStringField("start", burn.start().toString());
        WallTime end = burn.end();
        Json.text(json, "end", end == null ? null : end.toString());
        Json.number(json, "gasUsedKg", burn.gasUsedKg(), 4);
        Json.number(json, "gasCost", burn.gasUsedKg() * gasPricePerKg, 4);
        Json.number(json, "peakC", burn.peakC(), 2);
        json.writeEndObject();
    }

    /** The alarms of one forge as an array. */
    static void alarms(JsonGenerator json, List<AlarmStatus> alarms) throws IOException {
        json.writeStartArray();
        for (AlarmStatus alarm : alarms) {
            json.writeStartObject();
            json.writeStringField("alarm", alarm.alarm().code());
            json.writeStringField("title", alarm.alarm().title());
            json.writeStringField("state", alarm.state().code());
            json.writeBooleanField("callsForAttention", alarm.state().callsForAttention());
            json.writeStringField("priority", alarm.priority().code());
            Json.time(json, alarm.since());
            WallTime until = alarm.until();
            Json.text(json, "until", until == null ? null : until.toString());
            Json.number(json, "untilT", until == null ? Double.NaN : until.epochSeconds(), 6);
            Json.number(json, "value", alarm.value(), 3);
            json.writeStringField("why", alarm.why());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    /** The alarms of a forge that a page is not looking at. */
    public static byte[] alarmsOf(ForgeSnapshot snapshot) {
        return Json.object(json -> {
            json.writeStringField("forge", snapshot.forge());
            json.writeFieldName("alarms");
            alarms(json, snapshot.alarms());
        });
    }
}
