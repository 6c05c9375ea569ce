package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.jspecify.annotations.Nullable;

/** Reads parameters and bodies of requests and refuses what it cannot use. */
final class Requests {
    /** The longest note, 4,000 characters, each escaped as six bytes, with room for its keys. */
    static final int MAX_BODY_BYTES = 32_768;

    // Years 1970 to 9999, which is what ISO 8601 text of four-digit years can say.
    private static final double MAX_EPOCH_SECONDS = 253_402_300_799.0;

    private Requests() {}

    static byte[] answer(Context ctx, int status, Json.Members members) {
        byte[] json = Json.object(members);
        ctx.status(status).contentType("application/json").result(json);
        return json;
    }

    /** The forge that the path names. */
    static ForgeFace forge(Context ctx, ForgeFeed feed) {
        String id = ctx.pathParam("forge");
        for (ForgeFace face : feed.forges()) {
            if (face.description().id().equals(id)) {
                return face;
            }
        }
        String known =
                feed.forges().stream().map(face -> face.description().id()).collect(Collectors.joining(", "));
        throw ApiException.unknown("forge", id, known.isEmpty() ? "none yet" : known);
    }

    static int integer(Context ctx, String name, int usual, int least, int most) {
        String text = ctx.queryParam(name);
        if (text == null) {
            return usual;
        }
        String allowed = "a whole number from " + least + " to " + most;
        try {
            int value = Integer.parseInt(text);
            if (value < least || value > most) {
                throw ApiException.bad(name, text, allowed);
            }
            return value;
        } catch (NumberFormatException e) {
            throw ApiException.bad(name, text, allowed);
        }
    }

    static WallTime time(Context ctx, String name, WallTime usual) {
        String text = ctx.queryParam(name);
        return text == null ? usual : time(name, text);
    }

    /** A time as ISO 8601 with its zone, or as seconds since 1970. */
    static WallTime time(String name, String text) {
        try {
            double seconds = Double.parseDouble(text);
            if (seconds >= 0 && seconds <= MAX_EPOCH_SECONDS) {
                return WallTime.ofEpochSeconds(seconds);
            }
        } catch (NumberFormatException notSeconds) {
            try {
                Instant instant = OffsetDateTime.parse(text).toInstant();
                if (instant.getEpochSecond() >= 0 && instant.getEpochSecond() <= MAX_EPOCH_SECONDS) {
                    return WallTime.of(instant);
                }
            } catch (DateTimeParseException notIso) {
                // Told below, with what is allowed.
            }
        }
        throw ApiException.bad(
                name,
                text,
                "ISO 8601 with a zone, such as 2026-03-01T10:00:00Z, or seconds since 1970, to the year 9999");
    }

    /** The first moment of a span; it must lie before its end. */
    static void order(WallTime from, WallTime to) {
        if (!from.isBefore(to)) {
            throw ApiException.bad("from", from.toString(), "a time before to, which is " + to);
        }
    }

    /** The body as an object with no other keys than {@code keys}; an empty body is an empty object. */
    static ObjectNode body(Context ctx, String... keys) {
        byte[] bytes = boundedBody(ctx);
        if (bytes.length == 0) {
            return Json.emptyObject();
        }
        // A form of a stranger's page cannot send this type without asking first.
        String type = ctx.contentType();
        if (type == null || !type.startsWith("application/json")) {
            throw new ApiException(415, "the body is not said to be JSON", "Content-Type", type, "application/json");
        }
        JsonNode node;
        try {
            node = Json.read(bytes);
        } catch (JsonProcessingException e) {
            throw new ApiException(400, "the body is not JSON: " + e.getOriginalMessage());
        } catch (IOException e) {
            throw new ApiException(400, "the body could not be read");
        }
        if (!(node instanceof ObjectNode object)) {
            throw new ApiException(400, "the body is not a JSON object");
        }
        Set<String> allowed = new TreeSet<>(Set.of(keys));
        object.fieldNames().forEachRemaining(key -> {
            if (!allowed.contains(key)) {
                throw new ApiException(
                        400,
                        "the body has the unknown key \"" + key + "\"; known: " + String.join(", ", allowed),
                        key,
                        object.path(key).asText(),
                        String.join(", ", allowed));
            }
        });
        return object;
    }

    private static byte[] boundedBody(Context ctx) {
        try (InputStream stream = ctx.req().getInputStream()) {
            byte[] bytes = stream.readNBytes(MAX_BODY_BYTES + 1);
            if (bytes.length > MAX_BODY_BYTES) {
                throw tooLarge();
            }
            return bytes;
        } catch (IOException e) {
            throw new ApiException(400, "the body could not be read");
        }
    }

    static ApiException tooLarge() {
        return new ApiException(
                413,
                "the body is larger than " + MAX_BODY_BYTES + " bytes",
                "body",
                null,
                "at most " + MAX_BODY_BYTES + " bytes");
    }

    /** A text of the body, with white space around it cut off. */
    static String text(ObjectNode body, String name, @Nullable String usual, int least, int most) {
        JsonNode node = body.path(name);
        String allowed = "text of " + least + " to " + most + " characters";
        if (node.isMissingNode() || node.isNull()) {
            if (usual == null) {
                throw ApiException.bad(name, null, allowed);
            }
            return usual;
        }
        if (!node.isTextual()) {
            throw ApiException.bad(name, node.toString(), allowed);
        }
        String text = node.textValue().strip();
        if (text.length() < least || text.length() > most) {
            throw ApiException.bad(name, text, allowed);
        }
        return text;
    }

    /** A number of the body, more than 0. */
    static double positive(ObjectNode body, String name, String allowed) {
        JsonNode node = body.path(name);
        if (!node.isNumber() || !(node.doubleValue() > 0)) {
            throw ApiException.bad(name, node.isMissingNode() ? null : node.asText(), allowed);
        }
        return node.doubleValue();
    }

    /** A yes or no of the body. */
    static boolean yesOrNo(ObjectNode body, String name) {
        JsonNode node = body.path(name);
        if (!node.isBoolean()) {
            throw ApiException.bad(name, node.isMissingNode() ? null : node.asText(), "true or false");
        }
        return node.booleanValue();
    }
}
