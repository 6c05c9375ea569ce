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
    // Ends a test that would hang; no answer is late before that.
    private static final Duration PATIENCE = Duration.ofSeconds(60);
    private static final int MOST_TRIES = 60;
    private static final long BETWEEN_TRIES_MS = 500;

    private final ScriptedForge forge;
    private final DashboardServer server;
    private final int port;
    private final HttpClient client = HttpClient.newHttpClient();

    /** Starts it. */
    public RunningDashboard(ScriptedForge forge) throws IOException {
        this(forge, 0);
    }

    /** Starts it on a port, and fails when something else has it. */
    public RunningDashboard(ScriptedForge forge, int port) throws IOException {
        this.forge = forge;
        this.server = new DashboardServer(new DashboardSettings("127.0.0.1", port), forge.sources());
        this.port = server.start();
    }

    /** Starts it again where another was; a connection of somebody else may have been given that port for a moment. */
    public static RunningDashboard again(ScriptedForge forge, int port) throws IOException, InterruptedException {
        for (int tries = 1; ; tries++) {
            try {
                return new RunningDashboard(forge, port);
            } catch (IOException e) {
                if (tries == MOST_TRIES) {
                    throw e;
                }
                Thread.sleep(BETWEEN_TRIES_MS);
            }
        }
    }

    public ScriptedForge forge() {
        return forge;
    }

    /** Whether a page looks at that forge now. */
    public boolean isLookedAt(String forgeId) {
        return server.isLookedAt(forgeId);
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
        return HttpRequest.newBuilder(URI.create(url(path))).timeout(PATIENCE);
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
