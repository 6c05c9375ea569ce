package org.bankfire.daemon.config;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;

/** The example configurations. */
final class Examples {
    /** Stands in for the folder of a file that exists as text only. */
    static final Path FOLDER = Path.of("/srv/bankfire");

    private Examples() {}

    static Path path(String name) {
        return Path.of(Objects.requireNonNull(System.getProperty("bankfire.fixtures")))
                .resolve("examples")
                .resolve(name);
    }

    static String text(String name) throws IOException {
        return Files.readString(path(name));
    }
}
