package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Configurations for the figures: forges as the virtual one is built, watched in every respect that the daemon knows. */
final class BenchForge {
    private BenchForge() {}

    /**
     * Writes a configuration.
     *
     * @param source keys of the one source, TOML
     * @param ids of the forges
     */
    static Path configuration(Path folder, String source, Iterable<String> ids) throws IOException {
        StringBuilder text = new StringBuilder("""
                [dashboard]
                listen = "127.0.0.1:0"

                [store]
                kind = "sqlite"
                path = "book.db"

                [[source]]
                """);
        text.append(source).append('\n');
        for (String id : ids) {
            text.append("""
                    [[forge]]
                    id = "%s"
                    target = "1150 degC"
                    chamber-limit = "1290 degC"

                    [forge.burner]
                    fuel = "propane"
                    jet = "0.8 mm"
                    throat = "18 mm"

                    [forge.chamber]
                    inside = ["180 mm", "150 mm", "250 mm"]
                    probe-lag = "8 s"

                    [[forge.lining]]
                    material = "insulating-firebrick-23"
                    thickness = "76 mm"

                    [[forge.opening]]
                    name = "front"
                    size = ["100 mm", "115 mm"]

                    [[forge.opening]]
                    name = "rear"
                    size = ["70 mm", "70 mm"]
                    plug = true

                    """.formatted(id));
        }
        return Files.writeString(folder.resolve("bankfire.toml"), text);
    }

    static Path store(Path folder) {
        return folder.resolve("book.db");
    }
}
