package org.bankfire.daemon.testbed;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** A {@link VirtualForgeProcess} that runs, with the lines that it says it sent. */
public final class FeederProcess implements AutoCloseable {
    private static final long END_S = 120;

    private final Process process;
    private final Writer commands;
    private static final Pattern CHAMBER = Pattern.compile("\"n\":\"chamber\"[^}]*?\"v\":(-?[0-9.]+)");

    private record Sent(long nanos, long number, double chamberC) {}

    private final List<String> said = new CopyOnWriteArrayList<>();
    private final List<Sent> sent = new CopyOnWriteArrayList<>();
    private final Thread reader;

    private FeederProcess(Process process) {
        this.process = process;
        this.commands = process.outputWriter(StandardCharsets.UTF_8);
        this.reader = new Thread(this::read, "feeder");
        reader.setDaemon(true);
        reader.start();
    }

    /** Starts the feeder with its own options. */
    public static FeederProcess start(String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                VirtualForgeProcess.class.getName()));
        command.addAll(List.of(arguments));
        return new FeederProcess(new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start());
    }

    /** Numbers of the lines that left so far. */
    public List<Long> sentNumbers() {
        return sent.stream().map(Sent::number).toList();
    }

    /** Chamber temperatures of the lines that left since that moment of {@link System#nanoTime}, in whole °C. */
    public Set<Integer> chamberDegreesSince(long nanos) {
        return sent.stream()
                .filter(line -> line.nanos - nanos >= 0)
                .map(line -> (int) Math.round(line.chamberC))
                .collect(Collectors.toSet());
    }

    /** Everything that it said. */
    public List<String> said() {
        return List.copyOf(said);
    }

    /** A hand at the forge. */
    public void act(String action) throws IOException {
        commands.write(action + "\n");
        commands.flush();
    }

    /** Asks it to end and waits until everything has left. */
    public void quit() throws IOException, InterruptedException {
        act("quit");
        if (!process.waitFor(END_S, TimeUnit.SECONDS)) {
            throw new IllegalStateException("the feeder did not end; it said last: " + said.get(said.size() - 1));
        }
        reader.join();
    }

    private void read() {
        try (BufferedReader in =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            String line = in.readLine();
            while (line != null) {
                said.add(line);
                if (line.startsWith("SENT ")) {
                    Matcher chamber = CHAMBER.matcher(line);
                    double chamberC = chamber.find() ? Double.parseDouble(chamber.group(1)) : Double.NaN;
                    sent.add(new Sent(System.nanoTime(), Long.parseLong(line.split(" ", 3)[1]), chamberC));
                }
                line = in.readLine();
            }
        } catch (IOException gone) {
            throw new UncheckedIOException(gone);
        }
    }

    @Override
    public void close() {
        process.destroyForcibly().onExit().join();
    }
}
