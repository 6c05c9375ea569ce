package org.bankfire.daemon.testbed;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.bankfire.daemon.acquire.virtual.ForgeAction;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.bankfire.daemon.acquire.virtual.Pace;
import org.bankfire.daemon.acquire.virtual.PackWriter;
import org.bankfire.daemon.acquire.virtual.Scenario;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/**
 * A virtual forge in a process of its own that writes SenML lines to a file or pty, or publishes them to a broker.
 *
 * <p>On standard output, one line each, flushed at once: {@code SENT number line} when a line left (over MQTT: when the
 * broker acknowledged it), {@code ACTION id number} when a hand acted, with the number of the first line after it,
 * {@code RETRY number reason} when sending failed and goes on trying, and {@code DONE lines} at the end. To a file or pty
 * lines are sent once and a failure loses them, {@code LOST number reason}, as a wire would; over MQTT they wait and are
 * sent in order. On standard input: one action id a line; {@code quit} or the end of input ends the process.
 */
@Command(name = "virtual-forge")
public final class VirtualForgeProcess implements Callable<Integer> {
    /** Ten minutes at 10 Hz, longer than any outage that a test makes; when full, simulated time waits. */
    private static final int MAX_WAITING_LINES = 6_000;

    private static final int RETRY_MS = 100;

    @Option(names = "--out", paramLabel = "PATH", description = "file or pty")
    private @Nullable Path out;

    @Option(names = "--broker", paramLabel = "URI", description = "MQTT broker, with --topic")
    private @Nullable String broker;

    @Option(names = "--topic", defaultValue = "forge/demo")
    private String topic = "";

    @Option(names = "--forge", defaultValue = "demo")
    private String forge = "";

    @Option(names = "--rate", defaultValue = "10", description = "lines a simulated second")
    private double rateHz;

    @Option(names = "--speed", defaultValue = "1", description = "simulated seconds a second")
    private double speed;

    @Option(names = "--lines", defaultValue = "9223372036854775807", description = "ends after that many")
    private long lines;

    @Option(names = "--seed", defaultValue = "1")
    private long seed;

    @Option(names = "--start-at", defaultValue = "20", description = "chamber at the start, °C")
    private double startC;

    @Option(names = "--burning", description = "begins lit at working pressure, with no script")
    private boolean burning;

    @Option(names = "--timed", description = "absolute times in the packs")
    private boolean timed;

    @Option(names = "--crc", description = "a CRC at the end of each line")
    private boolean crc;

    @Option(names = "--emf", description = "raw thermocouple voltage and cold junction; needs --fixtures")
    private boolean emf;

    @Option(names = "--fixtures", paramLabel = "DIR", description = "folder of the reference tables")
    private @Nullable Path fixtures;

    private final BlockingQueue<NumberedLine> waiting = new ArrayBlockingQueue<>(MAX_WAITING_LINES);
    private final BlockingQueue<String> commands = new ArrayBlockingQueue<>(64);
    private final AtomicBoolean quit = new AtomicBoolean();

    @SuppressWarnings("ArrayRecordComponent") // handed over, never compared
    private record NumberedLine(long number, byte[] bytes) {}

    public static void main(String[] args) {
        System.exit(new CommandLine(new VirtualForgeProcess()).execute(args));
    }

    @Override
    public Integer call() throws Exception {
        Thread reader = new Thread(this::readCommands, "commands");
        reader.setDaemon(true);
        reader.start();
        try (LineSink sink = sink()) {
            Thread sender = new Thread(() -> sendAll(sink), "sender");
            sender.start();
            long made = simulate();
            waiting.put(new NumberedLine(-1, new byte[0]));
            sender.join();
            say("DONE " + made);
        }
        return 0;
    }

    private LineSink sink() throws Exception {
        if (broker != null) {
            return new BrokerSink(broker, topic);
        }
        if (out == null) {
            throw new IllegalArgumentException("--out or --broker must say where the lines go");
        }
        return new FileSink(out);
    }

    private long simulate() throws InterruptedException {
        VirtualForge virtual = new VirtualForge(seed);
        virtual.startAt(startC);
        Scenario scenario = new Scenario(virtual);
        if (burning) {
            virtual.setPressure(VirtualForge.WORK_PA);
            virtual.openGas();
            virtual.light();
        }
        KTable table = emf && fixtures != null ? new KTable(fixtures) : null;
        PackWriter writer = new PackWriter(forge);
        double begin = System.currentTimeMillis() / 1e3;
        long due = System.nanoTime();
        long number = 0;
        for (; number < lines && !quit.get(); number++) {
            obey(scenario, number);
            if (burning) {
                virtual.step(1 / rateHz);
            } else {
                scenario.advance(1 / rateHz);
            }
            double time = timed ? begin + number / rateHz : Double.NaN;
            byte[] pack = pack(writer, table, virtual.observe(), number, time);
            waiting.put(new NumberedLine(number, crc ? withCrc(pack) : pack));
            due += Math.round(1e9 / rateHz / speed);
            Pace.SYSTEM.waitUntil(due);
        }
        return number;
    }

    private static byte[] pack(
            PackWriter writer, @Nullable KTable table, Observation seen, long number, double epochSeconds) {
        if (table == null) {
            return writer.write(seen, number, epochSeconds);
        }
        StringBuilder pack = writer.begin(number, epochSeconds);
        // The amplifier stands near the forge and takes a tenth of its shell's warmth.
        double junctionC = Math.rint((seen.ambientC() + 0.1 * (seen.shellC() - seen.ambientC())) * 16) / 16;
        if (Double.isNaN(seen.chamberC())) {
            writer.fault(pack, "chamber", "open");
        } else {
            double millivolts = table.millivolts(seen.chamberC()) - table.millivolts(junctionC);
            writer.value(pack, "chamber-emf", "mV", millivolts);
        }
        writer.value(pack, "cold-junction", "Cel", junctionC);
        return writer.end(pack, seen);
    }

    private void obey(Scenario scenario, long number) {
        for (String command = commands.poll(); command != null; command = commands.poll()) {
            ForgeAction action = ForgeAction.ofId(command).orElse(null);
            if (action == null) {
                System.err.println("no action \"" + command + "\"; allowed are " + ForgeAction.ids());
            } else {
                scenario.trigger(action);
                say("ACTION " + action.id() + " " + number);
            }
        }
    }

    private void readCommands() {
        BufferedReader in = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
        try {
            for (String line = in.readLine(); line != null && !line.equals("quit"); line = in.readLine()) {
                commands.put(line.strip());
            }
        } catch (IOException | InterruptedException e) {
            System.err.println("no more commands: " + e);
        }
        quit.set(true);
    }

    private void sendAll(LineSink sink) {
        try {
            for (NumberedLine line = waiting.take(); line.number() >= 0; line = waiting.take()) {
                while (!sent(sink, line) && broker != null && !quit.get()) {
                    TimeUnit.MILLISECONDS.sleep(RETRY_MS);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private boolean sent(LineSink sink, NumberedLine line) {
        try {
            sink.send(line.bytes());
            say("SENT " + line.number() + " " + new String(line.bytes(), StandardCharsets.UTF_8));
            return true;
        } catch (IOException e) {
            say((broker == null ? "LOST " : "RETRY ") + line.number() + " " + e);
            return false;
        }
    }

    /** CRC-16/CCITT-FALSE bit by bit, apart from the decoder's. */
    static byte[] withCrc(byte[] line) {
        int register = 0xFFFF;
        for (byte octet : line) {
            for (int bit = 7; bit >= 0; bit--) {
                boolean carry = ((register >> 15) & 1) != ((octet >> bit) & 1);
                register = (register << 1) & 0xFFFF;
                if (carry) {
                    register ^= 0x1021;
                }
            }
        }
        String end = String.format(Locale.ROOT, " *%04X", register);
        return (new String(line, StandardCharsets.UTF_8) + end).getBytes(StandardCharsets.UTF_8);
    }

    private static synchronized void say(String line) {
        System.out.println(line);
        System.out.flush();
    }
}
