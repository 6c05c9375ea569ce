package org.bankfire.daemon.testbed;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Two pseudo-terminals tied together by socat: what is written at the far end can be read at the device, as over a
 * serial cable. They know no baud rate. socat ends when a reader of the device closes it; {@link #replug} then.
 */
public final class PtyPair implements AutoCloseable {
    private static final Duration READY = Duration.ofMinutes(2);

    private final Path program;
    private final Path device;
    private final Path far;
    private @Nullable Process process;
    private @Nullable OutputStream writer;

    /**
     * Plugs a new pair in.
     *
     * @param folder where the two ends are to appear
     */
    public PtyPair(Path folder) throws IOException {
        this.program = Programs.find("socat", "socat");
        this.device = folder.resolve("device");
        this.far = folder.resolve("far");
        replug();
    }

    /** The path to read from, the same after each replug. */
    public Path device() {
        return device;
    }

    /** The path that a process under test may write to. */
    public Path far() {
        return far;
    }

    /** Ties a new pair at the same paths. */
    public void replug() throws IOException {
        if (process != null && process.isAlive()) {
            throw new IllegalStateException("the pair is plugged in");
        }
        Path log = Programs.log("socat.log");
        process = new ProcessBuilder(
                        List.of(program.toString(), "pty,raw,echo=0,link=" + device, "pty,raw,echo=0,link=" + far))
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                .start();
        await("both ends there; see " + log).atMost(READY).until(() -> Files.exists(device) && Files.exists(far));
        writer = Files.newOutputStream(far);
    }

    /** Makes both ends vanish. */
    public void unplug() throws IOException {
        if (writer != null) {
            writer.close();
            writer = null;
        }
        Programs.end(process);
        process = null;
        Files.deleteIfExists(device);
        Files.deleteIfExists(far);
    }

    /** Writes {@code bytes} at the far end; waits while nobody reads and the pair is full. */
    public void send(byte[] bytes) throws IOException {
        OutputStream out = writer;
        if (out == null) {
            throw new IOException("unplugged");
        }
        out.write(bytes);
    }

    /** Writes {@code text} as UTF-8 at the far end. */
    public void send(String text) throws IOException {
        send(text.getBytes(StandardCharsets.UTF_8));
    }

    @Override
    public void close() throws IOException {
        unplug();
    }
}
