package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/** How the API writes JSON: streaming, NaN as null, times as ISO 8601 and as seconds. */
public final class Json {
    private static final JsonFactory FACTORY = JsonFactory.builder()
            // No body of ours nests.
            .streamReadConstraints(
                    StreamReadConstraints.builder().maxNestingDepth(8).build())
            .build();

    private static final double[] POWERS_OF_TEN = {1, 10, 100, 1e3, 1e4, 1e5, 1e6};
    private static final int USUAL_SIZE = 2_048;

    private Json() {}

    /** Reads bodies. It is made with the first of them, for it takes a tenth of the time that the start may take. */
    private static final class Reader {
        private static final ObjectMapper MAPPER = new ObjectMapper(FACTORY);
    }

    static JsonNode read(byte[] bytes) throws IOException {
        return Reader.MAPPER.readTree(bytes);
    }

    static ObjectNode emptyObject() {
        return Reader.MAPPER.createObjectNode();
    }

    /** Writes the members of one object. */
    @FunctionalInterface
    public interface Members {
        void write(JsonGenerator json) throws IOException;
    }

    /** One object as UTF-8. */
    public static byte[] object(Members members) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(USUAL_SIZE);
        try (JsonGenerator json = generator(bytes)) {
            json.writeStartObject();
            members.write(json);
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException("writing JSON to memory", e);
        }
        return bytes.toByteArray();
    }

    /** Writes one value of any kind; the bytes are complete when it is closed. */
    static JsonGenerator generator(ByteArrayOutputStream bytes) throws IOException {
        return FACTORY.createGenerator(bytes);
    }

    /** A number rounded to {@code decimals} (0 to 6) places; null when it is not finite. */
    static void number(JsonGenerator json, String name, double value, int decimals) throws IOException {
        json.writeFieldName(name);
        number(json, value, decimals);
    }

    static void number(JsonGenerator json, double value, int decimals) throws IOException {
        if (!Double.isFinite(value)) {
            json.writeNull();
            return;
        }
        double rounded = Math.rint(value * POWERS_OF_TEN[decimals]) / POWERS_OF_TEN[decimals];
        if (rounded == Math.rint(rounded) && Math.abs(rounded) < 1e15) {
            json.writeNumber((long) rounded);
        } else {
            json.writeNumber(rounded);
        }
    }

    /** {@code time} in ISO 8601 and {@code t} in seconds since 1970; both null when there is none. */
    static void time(JsonGenerator json, @Nullable WallTime time) throws IOException {
        if (time == null) {
            json.writeNullField("time");
            json.writeNullField("t");
        } else {
            json.writeStringField("time", time.toString());
            json.writeNumberField("t", time.epochSeconds());
        }
    }

    static void text(JsonGenerator json, String name, @Nullable String value) throws IOException {
        if (value == null) {
            json.writeNullField(name);
        } else {
            json.writeStringField(name, value);
        }
    }
}
