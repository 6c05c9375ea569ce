package org.bankfire.daemon.testbed;

import static org.awaitility.Awaitility.await;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** The built jar in a process of its own, as a user starts it. */
public final class DaemonProcess implements AutoCloseable {
    private static final Duration READY = Duration.ofMinutes(3);
    private static final Pattern DASHBOARD = Pattern.compile("Dashboard: (http://\\S+)");

    private final Process process;
    private final List<String> events = new CopyOnWriteArrayList<>();
    private final List<String> log = new CopyOnWriteArrayList<>();
    private final List<Thread> readers;

    private DaemonProcess(Process process) {
        this.process = process;
        this.readers = List.of(reader(process.getInputStream(), events), reader(process.getErrorStream(), log));
    }

    /** Starts {@code java -jar bankfire.jar} with these arguments. */
    public static DaemonProcess start(String... arguments) throws IOException {
        return startWith(Map.of(), arguments);
    }

    /** Starts {@code java -jar bankfire.jar} with these arguments and more in its environment. */
    public static DaemonProcess startWith(Map<String, String> environment, String... arguments) throws IOException {
        return start(environment, List.of("-jar", jar().toString()), arguments);
    }

    /** Starts {@code java OPTIONS -jar bankfire.jar} with these arguments. */
    public static DaemonProcess startWith(List<String> options, String... arguments) throws IOException {
        List<String> what = new ArrayList<>(options);
        what.addAll(List.of("-jar", jar().toString()));
        return start(Map.of(), what, arguments);
    }

    /** Starts another main class over what is in the jar. */
    public static DaemonProcess startMain(Map<String, String> environment, Class<?> main, String... arguments)
            throws IOException {
        String classes =
                jar() + File.pathSeparator + Path.of("target", "test-classes").toAbsolutePath();
        return start(environment, List.of("-cp", classes, main.getName()), arguments);
    }

    /** Starts the jar by a script, which takes the same arguments and becomes the daemon. */
    public static DaemonProcess startScript(Map<String, String> environment, Path script, String... arguments)
            throws IOException {
        jar();
        List<String> command = new ArrayList<>(List.of("sh", script.toString()));
        command.addAll(List.of(arguments));
        return start(environment, command);
    }

    private static DaemonProcess start(Map<String, String> environment, List<String> what, String... arguments)
            throws IOException {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(what);
        command.addAll(List.of(arguments));
        return start(environment, command);
    }

    private static DaemonProcess start(Map<String, String> environment, List<String> command) throws IOException {
        ProcessBuilder builder = new ProcessBuilder(command);
        builder.environment().putAll(environment);
        return new DaemonProcess(builder.start());
    }

    private static Path jar() {
        Path jar = Path.of("target", "bankfire.jar").toAbsolutePath();
        if (!Files.isRegularFile(jar)) {
            throw new IllegalStateException(jar + " is missing: these tests run after the package phase (mvn verify)");
        }
        return jar;
    }

    /** Runs a command to its end and gives it back for a look at what it printed. */
    public static DaemonProcess runToEnd(String... arguments) throws IOException, InterruptedException {
        DaemonProcess run = start(arguments);
        run.awaitEnd();
        return run;
    }

    /** Address of the page, once it listens. */
    public String page() {
        await().atMost(READY).until(() -> !process.isAlive() || find() != null);
        String address = find();
        if (address == null) {
            throw new IllegalStateException("no dashboard came up:\n" + String.join("\n", log));
        }
        return address;
    }

    /** Waits until a line of its log has these words, such as that a port is open: what is sent before may be lost. */
    public void awaitLog(String words) {
        await().atMost(READY).until(() -> !process.isAlive() || log.stream().anyMatch(line -> line.contains(words)));
        if (log.stream().noneMatch(line -> line.contains(words))) {
            throw new IllegalStateException("it ended without \"" + words + "\":\n" + String.join("\n", log));
        }
    }

    private @Nullable String find() {
        for (String line : log) {
            Matcher matcher = DASHBOARD.matcher(line);
            if (matcher.find()) {
                return matcher.group(1);
            }
        }
        return null;
    }

    /** Lines on standard output so far. */
    public List<String> output() {
        return List.copyOf(events);
    }

    /** Lines on standard error so far. */
    public List<String> log() {
        return List.copyOf(log);
    }

    public long pid() {
        return process.pid();
    }

    /** Whether it runs, or has said what was not read yet: once it is not, its {@link #log} is whole. */
    public boolean isAlive() {
        return process.isAlive() || readers.stream().anyMatch(Thread::isAlive);
    }

    public int exitCode() {
        return process.exitValue();
    }

    /** Asks it to end, as an init system does, and waits. */
    public void stop() throws InterruptedException {
        process.destroy();
        awaitEnd();
    }

    /** Ends it as a pulled plug would. */
    public void kill() throws InterruptedException {
        process.destroyForcibly();
        awaitEnd();
    }

    private void awaitEnd() throws InterruptedException {
        if (!process.waitFor(READY.toSeconds(), TimeUnit.SECONDS)) {
            process.destroyForcibly();
            throw new IllegalStateException("the process did not end:\n" + String.join("\n", log));
        }
        for (Thread reader : readers) {
            reader.join(READY.toMillis());
        }
    }

    private static Thread reader(InputStream stream, List<String> lines) {
        Thread thread = new Thread(() -> {
            try (BufferedReader in = new BufferedReader(new InputStreamReader(stream, StandardCharsets.UTF_8))) {
                String line = in.readLine();
                while (line != null) {
                    lines.add(line);
                    line = in.readLine();
                }
            } catch (IOException gone) {
                throw new UncheckedIOException(gone);
            }
        });
        thread.setDaemon(true);
        thread.start();
        return thread;
    }

    @Override
    public void close() {
        process.destroyForcibly().onExit().join();
    }
}
