package org.bankfire.daemon.config;

import java.nio.file.Path;
import java.time.Duration;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.jspecify.annotations.Nullable;

/**
 * Where readings are kept: {@code [store]}.
 *
 * @param path absolute path of the file that takes everything first, and of the only one when there is no server
 * @param keepReadings age at which raw readings may be dropped, 1 to 36,500 days; roll-ups and burns stay
 * @param server gets all that the file takes; null when there is none
 */
public record StoreConfig(
        Path path, Duration keepReadings, @Nullable Server server) {
    /** Kinds of store. */
    public enum Kind {
        /** An embedded database in one file. */
        SQLITE,
        /** Such a file, and an InfluxDB server behind it. */
        INFLUX
    }

    /**
     * A server behind the file.
     *
     * @param influx where it is and how to get in
     * @param keepLocal age at which readings that the server has may be dropped from the file, 1 day to {@code
     *     keepReadings}
     * @param spoolLimitBytes how much may wait for the server, 1 MB to 1 TB
     */
    public record Server(InfluxSettings influx, Duration keepLocal, long spoolLimitBytes) {}

    /** Which kind it is. */
    public Kind kind() {
        return server == null ? Kind.SQLITE : Kind.INFLUX;
    }
}
