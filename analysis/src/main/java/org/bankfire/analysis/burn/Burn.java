package org.bankfire.analysis.burn;

import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * One burn of one forge.
 *
 * @param id as {@link #idOf} makes it; the key in the store
 * @param forge the forge's id
 * @param start gas on, of the lighting that succeeded
 * @param end gas off or flame out; null while it burns
 * @param gasUsedKg gas through the jet so far, kg, 0 or more
 * @param peakC highest chamber temperature so far, °C; NaN when not known
 */
public record Burn(
        String id, String forge, WallTime start, @Nullable WallTime end, double gasUsedKg, double peakC) {
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);

    /** Forge and start to the second, such as {@code shed-20260301T100012Z}. */
    public static String idOf(String forge, WallTime start) {
        return forge + "-" + STAMP.format(start.toInstant());
    }
}
