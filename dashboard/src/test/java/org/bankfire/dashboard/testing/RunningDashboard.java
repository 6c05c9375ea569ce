package org.bankfire.dashboard.testing;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import org.bankfire.dashboard.DashboardServer;
import org.bankfire.dashboard.DashboardSettings;

/** A server on a free port over a scripted forge, and a client that speaks to it. */
public final class RunningDashboard implements AutoCloseable {
    private static final ObjectMapper JSON = new ObjectMapper();

    private final ScriptedForge forge;
    private final DashboardServer server;
    private final int port;
    private final HttpClient client = HttpClient.newHttpClient();

    /** Starts it. */
    public RunningDashboard(ScriptedForge forge) throws IOException {
        this(forge, 0);
    }

    /** Starts it on a port. */
    public RunningDashboard(ScriptedForge forge, int port) throws IOException {
        this.forge = forge;
        this.server = new DashboardServer(new DashboardSettings("127.0.0.1", port), forge.sources());
        this.port = server.start();
    }

    public ScriptedForge forge() {
        return forge;
    }

    public int port() {
        return port;
    }

    public String url(String path) {
        return "http://127.0.0.1:" + port + path;
    }

    public HttpClient client() {
        return client;
    }

    public HttpRequest.Builder request(String path) {
        return HttpRequest.newBuilder(URI.create(url(path))).timeout(Duration.ofSeconds(10));
    }

    public HttpResponse<String> get(String path) throws IOException, InterruptedException {
        return client.send(request(path).build(), HttpResponse.BodyHandlers.ofString());
    }

    public HttpResponse<String> post(String path, String json) throws IOException, InterruptedException {
        HttpRequest request = request(path)
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString(json))
                .build();
        return client.send(request, HttpResponse.BodyHandlers.ofString());
    }

    public static JsonNode json(HttpResponse<String> response) throws IOException {
        return JSON.readTree(response.body());
    }

    @Override
    public void close() {
        server.close();
    }
}
