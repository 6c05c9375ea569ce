package org.bankfire.daemon.notify;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.bankfire.daemon.config.OutputConfig;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Runs a program of the user's own, without a shell in between: the JSON object on its standard input, the single facts
 * as environment variables {@code BANKFIRE_…}. What it prints is logged, the beginning of it.
 */
final class CommandCarrier implements Carrier {
    private static final Logger LOG = LoggerFactory.getLogger(CommandCarrier.class);

    /** Enough for the error of a script; a program that prints without end fills neither log nor memory. */
    private static final int MOST_OUTPUT_BYTES = 2_000;

    /** What a dead program left in its pipe is there at once, and taken as soon as the machine has time for it. */
    private static final long LAST_OUTPUT_MS = 5_000;

    private static final String PREFIX = "BANKFIRE_";

    private final OutputConfig.Command settings;

    CommandCarrier(OutputConfig.Command settings) {
        this.settings = settings;
    }

    @Override
    public String carry(Message message) throws CarryException, InterruptedException {
        List<String> command = new ArrayList<>();
        command.add(settings.program());
        command.addAll(settings.arguments());
        ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
        // What the daemon says to its service manager is not for others to say.
        builder.environment().keySet().removeAll(List.of("NOTIFY_SOCKET", "WATCHDOG_USEC", "WATCHDOG_PID"));
        for (Map.Entry<String, String> fact : message.facts().entrySet()) {
            builder.environment().put(PREFIX + fact.getKey(), fact.getValue().replace('\0', ' '));
        }
        Process process;
        try {
            process = builder.start();
        } catch (IOException e) {
            throw CarryException.passing("the program " + settings.program() + " cannot be run: " + e.getMessage());
        }
        OutputTaker output = new OutputTaker(process);
        try {
            output.start();
            hand(process, message.json());
            if (!process.waitFor(Math.round(settings.timeoutS() * 1e3), TimeUnit.MILLISECONDS)) {
                throw CarryException.passing("the program " + settings.program() + " did not end within "
                        + settings.timeoutS() + " s and was ended");
            }
            output.join(LAST_OUTPUT_MS);
            String said = output.said();
            if (!said.isEmpty()) {
                LOG.info("{} printed: {}", settings.program(), said);
            }
            if (process.exitValue() != 0) {
                throw CarryException.passing("the program " + settings.program() + " ended with code "
                        + process.exitValue() + (said.isEmpty() ? "" : ": " + said));
            }
            return "The program " + settings.program() + " ended with code 0.";
        } finally {
            end(process);
        }
    }

    /** A program that does not read its input is no failure: the environment tells it all. */
    private static void hand(Process process, String json) {
        try (OutputStream in = process.getOutputStream()) {
            in.write((json + "\n").getBytes(StandardCharsets.UTF_8));
        } catch (IOException unread) {
            LOG.debug("the program did not read its input: {}", unread.getMessage());
        }
    }

    /** Ends it and what it started, so that hanging ones do not gather. */
    private static void end(Process process) {
        if (process.isAlive()) {
            process.descendants().forEach(ProcessHandle::destroyForcibly);
            process.destroyForcibly();
        }
    }

    /**
     * Takes what is printed, so that the program never waits for a full pipe, and keeps the beginning. It ends with the
     * program, even when a child that the program left behind still holds the pipe, or prints on and on.
     */
    private static final class OutputTaker extends Thread {
        private static final long LOOK_MS = 10;

        private final Process process;
        private final byte[] kept = new byte[MOST_OUTPUT_BYTES];
        private int length;

        OutputTaker(Process process) {
            super("output of a command");
            setDaemon(true);
            this.process = process;
        }

        @Override
        public void run() {
            byte[] buffer = new byte[MOST_OUTPUT_BYTES];
            try (InputStream stream = process.getInputStream()) {
                boolean runs = true;
                while (runs) {
                    runs = process.isAlive();
                    while (stream.available() > 0 && (process.isAlive() || hasRoom())) {
                        keep(buffer, stream.read(buffer));
                    }
                    Thread.sleep(LOOK_MS);
                }
            } catch (IOException ended) {
                LOG.debug("the output of a command ended: {}", ended.getMessage());
            } catch (InterruptedException interrupted) {
                Thread.currentThread().interrupt();
            }
        }

        private synchronized void keep(byte[] bytes, int count) {
            int taken = Math.min(count, kept.length - length);
            System.arraycopy(bytes, 0, kept, length, taken);
            length += taken;
        }

        private synchronized boolean hasRoom() {
            return length < kept.length;
        }

        synchronized String said() {
            String all = new String(kept, 0, length, StandardCharsets.UTF_8);
            return all.strip().replaceAll("\\p{Cntrl}+", " ");
        }
    }
}
