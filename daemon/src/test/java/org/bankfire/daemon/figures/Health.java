package org.bankfire.daemon.figures;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.function.Predicate;

/** What a running daemon says of itself. */
final class Health {
    private static final Duration ANSWER = Duration.ofMinutes(1);
    private static final long LOOK_MS = 50;
    private static final HttpClient HTTP =
            HttpClient.newBuilder().connectTimeout(ANSWER).build();
    private static final ObjectMapper MAPPER = new ObjectMapper();

    private final String page;

    Health(String page) {
        this.page = page;
    }

    JsonNode now() throws IOException, InterruptedException {
        return MAPPER.readTree(get("health"));
    }

    String metrics() throws IOException, InterruptedException {
        return get("metrics");
    }

    private String get(String path) throws IOException, InterruptedException {
        HttpRequest request =
                HttpRequest.newBuilder(URI.create(page + path)).timeout(ANSWER).build();
        return HTTP.send(request, HttpResponse.BodyHandlers.ofString()).body();
    }

    boolean connected() throws IOException, InterruptedException {
        JsonNode source = now().path("sources").path(0);
        return source.path("connected").asBoolean();
    }

    /** Good and bad frames of the first source so far. */
    long frames() throws IOException, InterruptedException {
        JsonNode source = now().path("sources").path(0);
        return source.path("frames").asLong() + source.path("badFrames").asLong();
    }

    /** Waits until it is as wanted; false when that took too long. */
    boolean await(Duration atMost, Predicate<JsonNode> wanted) throws IOException, InterruptedException {
        long end = System.nanoTime() + atMost.toNanos();
        while (!wanted.test(now())) {
            if (System.nanoTime() > end) {
                return false;
            }
            Thread.sleep(LOOK_MS);
        }
        return true;
    }
}
