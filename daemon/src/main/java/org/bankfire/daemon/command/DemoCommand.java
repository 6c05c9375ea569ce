package org.bankfire.daemon.command;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.store.StoreException;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** The demo: a virtual forge through the real daemon. */
@Command(
        name = "demo",
        description = "Runs a virtual forge with its own scenario through the real daemon; needs nothing else.")
public final class DemoCommand implements Callable<Integer> {
    private static final String SCENARIO = "demo.toml";

    @Option(names = "--port", paramLabel = "N", description = "Port on 127.0.0.1, 0 for any (default: 8440).")
    private int port = 8440;

    @Option(names = "--speed", paramLabel = "X", description = "Simulated seconds a second, 0.1 to 1000 (default: 1).")
    private double speed = 1;

    @Option(names = "--headless", description = "Without the dashboard.")
    private boolean headless;

    @Override
    public Integer call() throws ConfigException, IOException, StoreException, InterruptedException {
        Path folder = Files.createTempDirectory("bankfire-demo-");
        System.err.println(Cautions.TEXT);
        System.err.println("Demo: a forge that does not exist. Its log book is in " + folder);
        RunCommand.runUntilStopped(
                ConfigReader.read(scenario(), SCENARIO, folder).config(), headless);
        return ExitCodes.DONE;
    }

    private String scenario() throws IOException {
        try (var in = DemoCommand.class.getResourceAsStream(SCENARIO)) {
            if (in == null) {
                throw new IOException("the jar lacks its " + SCENARIO);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .replace("@PORT@", Integer.toString(port))
                    .replace("@SPEED@", Double.toString(speed));
        }
    }
}
