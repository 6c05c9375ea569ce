package org.bankfire.daemon.testbed;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * A Mosquitto broker of its own for a test, on a free port of the loopback address, that keeps its sessions on disk: a
 * broker that is stopped and started again goes on where it was. After {@link #kill} it has lost what it took since its
 * last save. Its log is appended to {@code target/testbed/mosquitto-PORT.log}.
 */
public final class MosquittoProcess implements AutoCloseable {
    private static final Duration READY = Duration.ofMinutes(2);

    private final Path folder;
    private final Path program;
    private final int port;
    private final Path log;
    private final List<String> lines = new ArrayList<>();
    private boolean tls;
    private boolean quiet;
    private @Nullable Process process;

    /**
     * A broker that is yet to be started; it lets everybody in.
     *
     * @param folder an empty folder for its configuration and sessions
     */
    public MosquittoProcess(Path folder) throws IOException {
        this.folder = folder;
        this.program = Programs.find("mosquitto", "mosquitto");
        this.port = Programs.freePort();
        this.log = Programs.log("mosquitto-" + port + ".log");
        Files.deleteIfExists(log); // of an earlier one on this port
    }

    /** From the next start on lets in only this user. */
    public MosquittoProcess withUser(String user, String password) throws IOException, InterruptedException {
        Path passwords = folder.resolve("passwords");
        Programs.run(List.of(
                Programs.find("mosquitto_passwd", "mosquitto").toString(),
                "-c",
                "-b",
                passwords.toString(),
                user,
                password));
        lines.add("password_file " + passwords);
        lines.add("allow_anonymous false");
        return this;
    }

    /** From the next start on speaks TLS only. */
    public MosquittoProcess withTls(Path certificate, Path key) {
        tls = true;
        lines.add("certfile " + certificate);
        lines.add("keyfile " + key);
        return this;
    }

    /** Adds a line to its configuration. */
    public MosquittoProcess with(String line) {
        lines.add(line);
        return this;
    }

    /** From the next start on its log tells what went wrong and not each message: its speed is of interest. */
    public MosquittoProcess quiet() {
        quiet = true;
        lines.add("log_type error");
        lines.add("log_type warning");
        return this;
    }

    /** Its process while it runs. */
    public long pid() {
        Process running = process;
        if (running == null) {
            throw new IllegalStateException("the broker does not run");
        }
        return running.pid();
    }

    /** How many messages it knows a client to have acknowledged since the first start, by its log; not of a quiet one. */
    public long acknowledgedBy(String client) throws IOException {
        String word = "Received PUBACK from " + client + " (";
        try (Stream<String> lines = Files.lines(log, StandardCharsets.ISO_8859_1)) {
            return lines.filter(line -> line.contains(word)).count();
        }
    }

    public int port() {
        return port;
    }

    /** {@code tcp://127.0.0.1:PORT}, or {@code ssl://…}. */
    public String uri() {
        return (tls ? "ssl" : "tcp") + "://127.0.0.1:" + port;
    }

    /** Starts it and waits until it listens. */
    public void start() throws IOException {
        if (process != null && process.isAlive()) {
            throw new IllegalStateException("the broker runs already");
        }
        List<String> all = new ArrayList<>();
        all.add("per_listener_settings false");
        all.add("listener " + port + " 127.0.0.1");
        all.add("persistence true");
        all.add("persistence_location " + folder + "/");
        all.add("max_queued_messages 0"); // no limit: a test looks for lost messages
        all.add("user " + System.getProperty("user.name")); // as root it would become another user
        if (lines.stream().noneMatch(line -> line.startsWith("allow_anonymous"))) {
            all.add("allow_anonymous true");
        }
        all.addAll(lines);
        Path configuration = folder.resolve("mosquitto.conf");
        Files.write(configuration, all);
        List<String> command = new ArrayList<>(List.of(program.toString(), "-c", configuration.toString()));
        if (!quiet) {
            command.add("-v");
        }
        Process started = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                .start();
        process = started;
        await("broker listens; see " + log).atMost(READY).until(() -> {
            if (!started.isAlive()) {
                throw new AssertionError("the broker ended at once: " + Files.readString(log));
            }
            return listens();
        });
    }

    /** Stops it in order: it saves its sessions. */
    public void stop() {
        Programs.end(process);
        process = null;
    }

    /** Ends it as a pulled plug would. */
    public void kill() throws InterruptedException {
        Programs.kill(process);
        process = null;
    }

    public void restart() throws IOException {
        stop();
        start();
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
