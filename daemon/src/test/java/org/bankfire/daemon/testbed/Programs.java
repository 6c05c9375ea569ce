package org.bankfire.daemon.testbed;

import java.io.File;
import java.io.IOException;
import java.net.BindException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Programs that tests need. */
public final class Programs {
    private static final long RUN_S = 60;

    /** Below those that systems give to outgoing connections: one of these could be taken before its user binds it. */
    private static final int LOWEST_PORT = 12_000;

    private static final int HIGHEST_PORT = 32_000;
    private static final int PORT_TRIES = 100;

    private Programs() {}

    /** The program's path; an error that names the Debian package when it is missing. */
    public static Path find(String program, String debianPackage) {
        String path = System.getenv("PATH") == null ? "" : System.getenv("PATH");
        return Stream.concat(Stream.of(path.split(File.pathSeparator)), Stream.of("/usr/sbin", "/usr/local/sbin"))
                .map(folder -> Path.of(folder).resolve(program))
                .filter(Files::isExecutable)
                .findFirst()
                .orElseThrow(() -> new AssertionError("the program " + program
                        + " is missing; this test needs it: apt-get install " + debianPackage));
    }

    /** Runs a program to its end, a minute at most; an error with its output when it fails. */
    public static void run(List<String> command) throws IOException, InterruptedException {
        Path output = Files.createTempFile("program", ".out");
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(output.toFile())
                .start();
        boolean ended = process.waitFor(RUN_S, TimeUnit.SECONDS);
        if (!ended) {
            process.destroyForcibly();
        }
        String said = Files.readString(output);
        Files.delete(output);
        if (!ended || process.exitValue() != 0) {
            throw new AssertionError(command + " failed: " + said);
        }
    }

    /** Where programs under test write their log: {@code target/testbed}. */
    public static Path log(String name) throws IOException {
        Path folder = Path.of("target", "testbed").toAbsolutePath();
        Files.createDirectories(folder);
        return folder.resolve(name);
    }

    /** A TCP port that was free a moment ago, and that no outgoing connection will be given. */
    public static int freePort() throws IOException {
        BindException taken = null;
        for (int i = 0; i < PORT_TRIES; i++) {
            int port = ThreadLocalRandom.current().nextInt(LOWEST_PORT, HIGHEST_PORT);
            try (ServerSocket socket = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
                return socket.getLocalPort();
            } catch (BindException e) {
                taken = e;
            }
        }
        throw new IOException("none of " + PORT_TRIES + " ports was free", taken);
    }

    /** Ends {@code process}: asks it to, and after 20 s makes it. */
    static void end(@Nullable Process process) {
        if (process == null) {
            return;
        }
        try {
            process.destroy();
            if (!process.waitFor(20, TimeUnit.SECONDS)) {
                process.destroyForcibly();
                process.waitFor(5, TimeUnit.SECONDS);
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
        }
    }
}
