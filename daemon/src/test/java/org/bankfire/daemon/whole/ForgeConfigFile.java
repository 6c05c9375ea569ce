package org.bankfire.daemon.whole;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Configuration files for the whole-path tests: one forge {@code shed} and a given source. */
final class ForgeConfigFile {
    private ForgeConfigFile() {}

    static Path write(Path folder, String source) throws IOException {
        return write(folder, "kind = \"sqlite\"", source);
    }

    /** With {@code store} in the table of that name, beside the path of its file. */
    static Path write(Path folder, String store, String source) throws IOException {
        return Files.writeString(folder.resolve("bankfire.toml"), """
                [dashboard]
                listen = "127.0.0.1:0"

                [store]
                path = "book.db"
                %s

                [[source]]
                %s

                [[forge]]
                id = "shed"
                name = "Shed forge"
                target = "1150 degC"
                chamber-limit = "1290 degC"

                [forge.burner]
                fuel = "propane"
                jet = "0.8 mm"
                throat = "18 mm"

                [forge.chamber]
                inside = ["200 mm", "160 mm", "230 mm"]
                probe-lag = "6 s"

                [[forge.lining]]
                material = "insulating-firebrick-23"
                thickness = "76 mm"

                [[forge.opening]]
                name = "front"
                size = ["90 mm", "110 mm"]
                """.formatted(store, source));
    }
}
