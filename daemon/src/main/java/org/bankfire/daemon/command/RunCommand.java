package org.bankfire.daemon.command;

import java.io.IOException;
import java.nio.file.Files;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.lifecycle.Daemon;
import org.bankfire.daemon.store.StoreException;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** The daemon. */
@Command(
        name = "run",
        description =
                "Runs the daemon until it is told to stop. Events go to standard output, the log to standard error.")
public final class RunCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @Override
    public Integer call() throws ConfigException, IOException, StoreException, InterruptedException {
        BankfireConfig resolved = config.read();
        if (!Files.exists(resolved.store().path())) {
            System.err.println(Cautions.TEXT);
        }
        runUntilStopped(resolved, false);
        return ExitCodes.DONE;
    }

    /** Starts the daemon and returns when the process is asked to end. */
    static void runUntilStopped(BankfireConfig config, boolean headless)
            throws IOException, StoreException, InterruptedException {
        EventLines events = new EventLines(System.out);
        Daemon daemon = Daemon.start(config, headless, events);
        CountDownLatch stopped = new CountDownLatch(1);
        Runtime.getRuntime()
                .addShutdownHook(new Thread(
                        () -> {
                            daemon.close();
                            events.close();
                            stopped.countDown();
                        },
                        "stop"));
        if (daemon.port() > 0) {
            System.err.println("Dashboard: http://" + config.dashboard().host() + ":" + daemon.port() + "/");
        }
        stopped.await();
    }
}
