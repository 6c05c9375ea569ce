package org.bankfire.daemon.config;

import java.nio.file.Path;
import java.time.Duration;

/**
 * Where readings are kept: {@code [store]}.
 *
 * @param kind of store
 * @param path absolute path of its file
 * @param keepReadings age at which raw readings may be dropped, 1 to 36,500 days; roll-ups and burns stay
 */
public record StoreConfig(Kind kind, Path path, Duration keepReadings) {
    /** Kinds of store. */
    public enum Kind {
        /** An embedded database in one file. */
        SQLITE
    }
}
