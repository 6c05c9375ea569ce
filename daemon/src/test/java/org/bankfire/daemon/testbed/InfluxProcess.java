package org.bankfire.daemon.testbed;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * An InfluxDB server of its own for a test, on free ports of the loopback address, that keeps its data in the given folder:
 * one that is stopped or killed and started again has what it had taken. Its log is appended to {@code
 * target/testbed/influxd-PORT.log}.
 */
public final class InfluxProcess implements AutoCloseable {
    private static final Duration READY = Duration.ofMinutes(2);

    private final HttpClient client = HttpClient.newBuilder()
            .proxy(HttpClient.Builder.NO_PROXY)
            .connectTimeout(Duration.ofSeconds(30))
            .build();
    private final Path folder;
    private final Path program;
    private final int port;
    private final int metaPort;
    private boolean authenticates;
    private String limits = "";
    private @Nullable Process process;

    /**
     * A server that is yet to be started; it lets everybody in.
     *
     * @param folder an empty folder for its configuration and data
     */
    public InfluxProcess(Path folder) throws IOException {
        this.folder = folder;
        this.program = Programs.find("influxd", "influxdb");
        this.port = Programs.freePort();
        this.metaPort = Programs.freePort();
    }

    /** From the next start on asks for user and password; users can be made while there is none. */
    public InfluxProcess withUsers() {
        authenticates = true;
        return this;
    }

    /** From the next start on tells at most so many rows of an answer that is asked for in one piece. */
    public InfluxProcess withMaxRows(int rows) {
        limits += "  max-row-limit = " + rows + "\n";
        return this;
    }

    public URI url() {
        return URI.create("http://127.0.0.1:" + port);
    }

    public int port() {
        return port;
    }

    /** Starts it and waits until it answers. */
    public InfluxProcess start() throws IOException {
        if (process != null && process.isAlive()) {
            throw new IllegalStateException("the server runs already");
        }
        Path configuration = folder.resolve("influxdb.conf");
        Files.writeString(configuration, configuration());
        Path log = Programs.log("influxd-" + port + ".log");
        Process started = new ProcessBuilder(program.toString(), "-config", configuration.toString())
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                .start();
        process = started;
        await("server answers; see " + log)
                .atMost(READY)
                .pollInterval(Duration.ofMillis(50))
                .until(() -> {
                    if (!started.isAlive()) {
                        throw new AssertionError("the server ended at once: " + Files.readString(log));
                    }
                    return listens();
                });
        return this;
    }

    private String configuration() {
        return """
                reporting-disabled = true
                bind-address = "127.0.0.1:%d"
                [meta]
                  dir = "%s/meta"
                [data]
                  dir = "%s/data"
                  wal-dir = "%s/wal"
                  query-log-enabled = false
                [monitor]
                  store-enabled = false
                [continuous_queries]
                  enabled = false
                [http]
                  bind-address = "127.0.0.1:%d"
                  log-enabled = false
                  auth-enabled = %s
                %s""".formatted(metaPort, folder, folder, folder, port, authenticates, limits);
    }

    /** Runs a statement as it would be typed in; returns the answer's JSON. */
    public String run(String database, String influxQl) throws IOException, InterruptedException {
        return send("/query?epoch=u&db=" + encoded(database), "q=" + encoded(influxQl));
    }

    /** As {@link #run(String, String)}, by a user. */
    public String runAs(String user, String password, String database, String influxQl)
            throws IOException, InterruptedException {
        return send(
                "/query?epoch=u&db=" + encoded(database) + "&u=" + encoded(user) + "&p=" + encoded(password),
                "q=" + encoded(influxQl));
    }

    /** Writes lines as another program would; returns the answer's body, empty when all were taken. */
    public String write(String database, String lines) throws IOException, InterruptedException {
        return send("/write?precision=u&db=" + encoded(database), lines);
    }

    /** As {@link #write}, under a retention policy. */
    public String writeTo(String database, String policy, String lines) throws IOException, InterruptedException {
        return send("/write?precision=u&db=" + encoded(database) + "&rp=" + encoded(policy), lines);
    }

    private String send(String path, String body) throws IOException, InterruptedException {
        HttpRequest request = HttpRequest.newBuilder(url().resolve(path))
                .header("Content-Type", "application/x-www-form-urlencoded")
                .timeout(Duration.ofMinutes(2))
                .POST(HttpRequest.BodyPublishers.ofString(body))
                .build();
        return client.send(request, HttpResponse.BodyHandlers.ofString()).body();
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    /** Stops it in order. */
    public void stop() {
        Programs.end(process);
        process = null;
    }

    /** Ends it as a pulled plug would. */
    public void kill() throws InterruptedException {
        Programs.kill(process);
        process = null;
    }

    /** Makes it answer nothing until {@link #resume}, while its connections stay open. */
    public void suspend() throws IOException, InterruptedException {
        Programs.suspend(Objects.requireNonNull(process, "the server does not run"));
    }

    public void resume() throws IOException, InterruptedException {
        Programs.resume(Objects.requireNonNull(process, "the server does not run"));
    }

    @Override
    public void close() {
        stop();
    }

    private boolean listens() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }
}
