package org.bankfire.daemon.command;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.ProxySelector;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.DashboardConfig;
import org.jspecify.annotations.Nullable;

/** Hands entries to the running daemon, by way of its dashboard on this machine. */
final class DaemonDesk implements LogDesk {
    /** The daemon itself waits five seconds for its store; a little more than twice that. */
    private static final Duration PATIENCE = Duration.ofSeconds(12);

    private static final ObjectMapper JSON = new ObjectMapper();

    private final HttpClient http = HttpClient.newBuilder()
            .connectTimeout(PATIENCE)
            // A loopback address is no affair of a proxy.
            .proxy(ProxySelector.of(null))
            .build();
    private final DashboardConfig dashboard;
    private final String forge;

    DaemonDesk(DashboardConfig dashboard, String forge) {
        this.dashboard = dashboard;
        this.forge = forge;
    }

    @Override
    public String where() {
        return "the running daemon at " + dashboard.listen();
    }

    @Override
    public List<EntryKey> entries(WallTime from, WallTime to) throws IOException {
        List<EntryKey> keys = new ArrayList<>();
        for (JsonNode entry : ask("entries?from=" + from + "&to=" + to, null).path("entries")) {
            WallTime time = WallTime.of(Instant.parse(entry.path("writtenFor").asText()));
            if (!time.isBefore(from) && time.isBefore(to)) {
                keys.add(new EntryKey(time, entry.path("name").asText()));
            }
        }
        keys.sort(null);
        return keys;
    }

    @Override
    public EntryKey write(String name, Worded value, @Nullable WallTime time) throws IOException {
        ObjectNode body = JSON.createObjectNode();
        String route;
        if (Setting.isSetting(name)) {
            route = "settings";
            body.put("name", name).put("value", value.value()).put("unit", value.unit());
        } else if (name.equals(ChannelNames.CYLINDER)) {
            route = "weighings";
            body.put("value", value.value()).put("unit", value.unit());
        } else {
            route = "notes";
            body.put("name", name).put("text", value.value());
        }
        if (time != null) {
            body.put("time", time.toString());
        }
        JsonNode written = ask(route, body);
        return new EntryKey(WallTime.of(Instant.parse(written.path("time").asText())), name);
    }

    @Override
    public void correct(Correction correction) throws IOException {
        ObjectNode body = JSON.createObjectNode();
        body.put("writtenFor", correction.entry().time().toString());
        body.put("name", correction.entry().name());
        body.put("by", correction.by());
        WallTime movedTo = correction.movedTo();
        if (movedTo != null) {
            body.put("time", movedTo.toString());
        }
        if (correction.value() != null) {
            body.put("value", correction.value());
        }
        if (correction.withdrawn()) {
            body.put("withdraw", true);
        }
        ask("entries/correct", body);
    }

    private JsonNode ask(String route, @Nullable ObjectNode body) throws IOException {
        URI uri = URI.create("http://" + dashboard.listen() + "/api/v1/forges/"
                + URLEncoder.encode(forge, StandardCharsets.UTF_8) + "/" + route);
        HttpRequest.Builder request = HttpRequest.newBuilder(uri).timeout(PATIENCE);
        if (body != null) {
            request.header("Content-Type", "application/json")
                    .POST(HttpRequest.BodyPublishers.ofString(body.toString()));
        }
        HttpResponse<String> response;
        try {
            response = http.send(request.build(), HttpResponse.BodyHandlers.ofString());
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted while the daemon at " + dashboard.listen() + " was asked", interrupted);
        } catch (IOException silent) {
            throw new IOException(
                    "a program holds the store, but no dashboard answers at " + dashboard.listen()
                            + ": is it a daemon without a dashboard, or still starting?",
                    silent);
        }
        JsonNode answer = JSON.readTree(response.body());
        if (response.statusCode() >= 300) {
            throw new IOException("the daemon at " + dashboard.listen() + " refused: "
                    + answer.path("error").asText("status " + response.statusCode()));
        }
        return answer;
    }

    @Override
    public void close() {}
}
