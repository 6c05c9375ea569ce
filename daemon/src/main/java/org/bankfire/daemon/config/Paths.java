package org.bankfire.daemon.config;

import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/** Paths in the configuration: relative ones start at its folder. */
final class Paths {
    private Paths() {}

    /** The absolute path that a key gives; null when it is missing or wrong. */
    static @Nullable Path read(Section section, String key, String allowed, Path baseDir) {
        String text = section.text(key, allowed);
        return text == null ? null : resolve(section, key, text, allowed, baseDir);
    }

    /** The absolute path of one text of a key; null when it is none. */
    static @Nullable Path resolve(Section section, String key, String text, String allowed, Path baseDir) {
        try {
            return baseDir.resolve(text).normalize();
        } catch (InvalidPathException e) {
            section.refuse(key, allowed);
            return null;
        }
    }

    /** Warns when a file that will be read is not there yet. */
    static void doubtIfAbsent(Section section, String key, @Nullable Path path) {
        if (path != null && !Files.isReadable(path)) {
            section.doubt(key, "there is no readable file " + path, "");
        }
    }
}
