package org.bankfire.daemon.acquire.replay;

import java.nio.file.Path;
import java.util.List;

/**
 * Recorded burns as a source.
 *
 * @param files one or more
 * @param speed event seconds a second, above 0; infinity for as fast as it goes
 */
public record ReplaySettings(List<Path> files, double speed) {
    public ReplaySettings {
        files = List.copyOf(files);
        if (files.isEmpty()) {
            throw new IllegalArgumentException("files: none; allowed are one or more");
        }
        if (!(speed > 0)) {
            throw new IllegalArgumentException("speed " + speed + "; allowed is above 0, infinity for full speed");
        }
    }
}
