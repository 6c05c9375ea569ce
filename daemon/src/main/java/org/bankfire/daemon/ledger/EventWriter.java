package org.bankfire.daemon.ledger;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.WallTime;

/**
 * Events as NDJSON, one a line: alarm transitions, burn boundaries and disturbances of the stream. The keys are those
 * that scripts rely on.
 */
public final class EventWriter {
    private static final JsonFactory JSON = new JsonFactory();
    private static final int MICROS_DIGITS = 6;
    private static final double VALUE_STEPS_PER_UNIT = 1e3;

    private final Appendable out;

    /** Writes to {@code out}; a {@code PrintStream} or a {@code StringBuilder} will do. */
    public EventWriter(Appendable out) {
        this.out = out;
    }

    /** Writes one alarm transition. */
    public void write(AlarmTransition transition) {
        line(transition.forge(), transition.time(), "alarm", json -> {
            json.writeStringField("alarm", transition.alarm().code());
            json.writeStringField("state", transition.state().code());
            json.writeStringField("priority", transition.priority().code());
            writeValue(json, "value", transition.value());
            json.writeStringField("why", transition.why());
        });
    }

    /** Writes one burn boundary. */
    public void write(BurnBoundary boundary) {
        line(boundary.forge(), boundary.time(), "burn", json -> {
            json.writeStringField("burn", boundary.burnId());
            json.writeStringField("state", boundary.stage().code());
            writeValue(json, "value", boundary.chamberC());
            json.writeStringField("why", boundary.why());
        });
    }

    /** Writes one disturbance of the stream. */
    public void write(SourceEvent event) {
        line(event.forge(), event.time(), "source", json -> {
            json.writeStringField("state", event.kind().code());
            writeValue(json, "value", event.value());
            json.writeStringField("why", event.why());
        });
    }

    @FunctionalInterface
    private interface Fields {
        void writeTo(JsonGenerator json) throws IOException;
    }

    private synchronized void line(String forge, WallTime time, String kind, Fields fields) {
        StringWriter text = new StringWriter();
        try {
            try (JsonGenerator json = JSON.createGenerator(text)) {
                json.writeStartObject();
                json.writeStringField("time", time.toString());
                json.writeFieldName("t");
                json.writeNumber(BigDecimal.valueOf(time.epochMicros(), MICROS_DIGITS)
                        .stripTrailingZeros()
                        .toPlainString());
                json.writeStringField("forge", forge);
                json.writeStringField("kind", kind);
                fields.writeTo(json);
                json.writeEndObject();
            }
            out.append(text.append('\n').toString());
        } catch (IOException failure) {
            throw new UncheckedIOException("events cannot be written: " + failure.getMessage(), failure);
        }
    }

    /** A thousandth of a unit is finer than any sensor here; more digits would only be noise. */
    private static void writeValue(JsonGenerator json, String field, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumberField(field, Math.round(value * VALUE_STEPS_PER_UNIT) / VALUE_STEPS_PER_UNIT);
        } else {
            json.writeNullField(field);
        }
    }
}
