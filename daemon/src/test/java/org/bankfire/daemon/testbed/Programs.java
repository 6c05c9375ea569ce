package org.bankfire.daemon.testbed;

import static org.awaitility.Awaitility.await;

import java.io.File;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Programs that tests need. */
public final class Programs {
    private static final long RUN_S = 120;

    /** As long as a program may take to save what it has: one that is made to end loses it. */
    private static final long END_S = 60;

    private static final int LEAST_PORT = 20_000;
    private static final Path EPHEMERAL_PORTS = Path.of("/proc/sys/net/ipv4/ip_local_port_range");
    private static final int USUAL_EPHEMERAL_PORT = 32_768;
    private static final int PORT_TRIES = 1_000;
    private static final Set<Integer> GIVEN_PORTS = new HashSet<>();

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

    /** Runs a program to its end, two minutes at most; an error with its output when it fails. */
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

    /**
     * A TCP port that is free and is likely to stay so until somebody listens there, be it minutes later or again after a
     * restart: below those that the system gives to whoever asks for any, and not given here before.
     */
    public static int freePort() throws IOException {
        int end = firstEphemeralPort();
        for (int i = 0; i < PORT_TRIES; i++) {
            int port = ThreadLocalRandom.current().nextInt(LEAST_PORT, end);
            synchronized (GIVEN_PORTS) {
                if (isFree(port) && GIVEN_PORTS.add(port)) {
                    return port;
                }
            }
        }
        throw new IOException("no TCP port from " + LEAST_PORT + " to " + end + " is free");
    }

    private static int firstEphemeralPort() throws IOException {
        int first = Files.isReadable(EPHEMERAL_PORTS)
                ? Integer.parseInt(Files.readString(EPHEMERAL_PORTS).strip().split("\\s+", 2)[0])
                : USUAL_EPHEMERAL_PORT;
        // A system that gives almost any port leaves none that are safe.
        return first > LEAST_PORT + PORT_TRIES ? first : USUAL_EPHEMERAL_PORT;
    }

    private static boolean isFree(int port) {
        try (ServerSocket socket = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
            return socket.isBound();
        } catch (IOException taken) {
            return false;
        }
    }

    /** Ends a process as a pulled plug would, and waits until it is gone. */
    static void kill(@Nullable Process process) throws InterruptedException {
        if (process != null && !process.destroyForcibly().waitFor(END_S, TimeUnit.SECONDS)) {
            throw new IllegalStateException(process + " cannot be killed");
        }
    }

    /** Makes a process stand still; returns when all of its threads do. */
    static void suspend(Process process) throws IOException, InterruptedException {
        run(List.of("/bin/kill", "-STOP", Long.toString(process.pid())));
        await().atMost(Duration.ofSeconds(END_S)).until(() -> standsStill(process));
    }

    private static boolean standsStill(Process process) throws IOException {
        try (Stream<Path> threads = Files.list(Path.of("/proc", Long.toString(process.pid()), "task"))) {
            for (Path thread : threads.toList()) {
                String stat = Files.readString(thread.resolve("stat"));
                // The state stands behind the name, which may hold anything.
                if (stat.charAt(stat.lastIndexOf(')') + 2) != 'T') {
                    return false;
                }
            }
        }
        return true;
    }

    static void resume(Process process) throws IOException, InterruptedException {
        run(List.of("/bin/kill", "-CONT", Long.toString(process.pid())));
    }

    /** Ends {@code process}: asks it to, and after a minute makes it. */
    static void end(@Nullable Process process) {
        if (process == null) {
            return;
        }
        try {
            process.destroy();
            if (!process.waitFor(END_S, TimeUnit.SECONDS)) {
                kill(process);
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
        }
    }
}
