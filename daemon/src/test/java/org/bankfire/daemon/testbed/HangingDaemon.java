package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CountDownLatch;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.lifecycle.Daemon;

/**
 * The daemon in a process of its own, with an output for events that blocks for good as soon as a file exists: whoever
 * tells an event then hangs. Arguments: the configuration, that file and, to have it serve the page, anything.
 */
public final class HangingDaemon {
    private HangingDaemon() {}

    public static void main(String[] args) throws Exception {
        Daemon daemon = Daemon.start(
                ConfigReader.read(Path.of(args[0])).config(), args.length < 3, new Blocking(Path.of(args[1])));
        CountDownLatch stopped = new CountDownLatch(1);
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            daemon.close();
            stopped.countDown();
        }));
        stopped.await();
    }

    private record Blocking(Path block) implements Appendable {
        @Override
        public Appendable append(CharSequence line) throws IOException {
            if (Files.exists(block)) {
                try {
                    new CountDownLatch(1).await();
                } catch (InterruptedException e) {
                    throw new IOException("interrupted", e);
                }
            }
            System.out.print(line);
            return this;
        }

        @Override
        public Appendable append(CharSequence text, int start, int end) throws IOException {
            return append(text.subSequence(start, end));
        }

        @Override
        public Appendable append(char character) throws IOException {
            return append(String.valueOf(character));
        }
    }
}
