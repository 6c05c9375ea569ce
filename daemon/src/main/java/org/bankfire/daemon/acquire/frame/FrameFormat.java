package org.bankfire.daemon.acquire.frame;

import java.util.List;
import org.bankfire.analysis.reading.Unit;
import org.jspecify.annotations.Nullable;

/** How a source writes its frames. */
public sealed interface FrameFormat {
    /**
     * SenML packs (RFC 8428), JSON or CBOR by the first byte.
     *
     * @param checksum whether a line must carry its CRC; a message over MQTT carries none
     * @param defaultForge forge of records whose name has no forge before a colon; null refuses them
     */
    record SenMl(ChecksumPolicy checksum, @Nullable String defaultForge) implements FrameFormat {}

    /**
     * One value a column.
     *
     * @param checksum whether a line must carry its CRC
     * @param forge the forge that all columns belong to
     * @param delimiter between columns; a space stands for any run of blanks
     * @param columns in order; a line may have no other number of them
     */
    record Columns(ChecksumPolicy checksum, String forge, char delimiter, List<Column> columns) implements FrameFormat {
        public Columns {
            columns = List.copyOf(columns);
        }
    }

    /**
     * What one column holds.
     *
     * @param name a record name, {@code time} for Unix seconds or ISO 8601, or empty to pass it over
     * @param unit of its values
     */
    record Column(String name, Unit unit) {}
}
