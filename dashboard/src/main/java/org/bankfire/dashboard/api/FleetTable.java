package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.zip.GZIPOutputStream;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.jspecify.annotations.Nullable;

/**
 * All forges at a glance, looked through at most once a second however many ask, and not at all while nobody asks. Every
 * look has a number, and a page names the last one that it has: it is sent the rows that differ since. Pages that ask
 * in the same second share the bytes.
 */
final class FleetTable {
    /** As often as a reader can follow a list. */
    static final long LOOK_NANOS = TimeUnit.SECONDS.toNanos(1);

    /** Below one packet compression gains nothing. */
    private static final int LEAST_TO_COMPRESS = 1_400;
    // Pages ask each second, so what they have is one or two looks old; one more that begins has none.
    private static final int MOST_SHARED = 8;

    /** What is sent, plain and compressed; the latter is null when it would gain nothing. */
    static final class Answer {
        private final byte[] plain;
        private final byte @Nullable [] compressed;

        private Answer(byte[] plain) {
            this.plain = plain;
            this.compressed = plain.length < LEAST_TO_COMPRESS ? null : compress(plain);
        }

        byte[] plain() {
            return plain;
        }

        byte @Nullable [] compressed() {
            return compressed;
        }
    }

    /** A row, its bytes, and the look that found it. */
    private static final class Told {
        private final FleetRow row;
        private final byte[] json;
        private final long look;

        private Told(FleetRow row, long look) {
            this.row = row;
            this.json = json(row);
            this.look = look;
        }
    }

    private final ForgeFeed feed;
    // Looks of one run of the daemon say nothing to the next one.
    private final String run;
    // The rest is guarded by this.
    private final Map<String, Told> rows = new HashMap<>();
    private final Map<Long, Answer> shared = new HashMap<>();
    private List<String> order = List.of();
    private long look;
    private long orderLook;
    private long lookedNanos;
    private WallTime lookedAt;

    FleetTable(ForgeFeed feed, String run) {
        this.feed = feed;
        this.run = run;
        this.lookedAt = feed.now();
    }

    /**
     * The rows that differ since a look.
     *
     * @param since {@code at} of the answer that the page has; any other word gets all rows
     * @param nowNanos of a clock that never goes back, ns
     */
    synchronized Answer since(@Nullable String since, long nowNanos) {
        if (look == 0 || nowNanos - lookedNanos >= LOOK_NANOS) {
            look(nowNanos);
        }
        long from = lookOf(since);
        Answer answer = shared.get(from);
        if (answer == null) {
            answer = make(from);
            if (shared.size() < MOST_SHARED) {
                shared.put(from, answer);
            }
        }
        return answer;
    }

    private void look(long nowNanos) {
        look++;
        lookedNanos = nowNanos;
        lookedAt = feed.now();
        shared.clear();
        List<String> ids = new ArrayList<>();
        for (ForgeFace face : feed.forges()) {
            String id = face.description().id();
            ids.add(id);
            Told told = rows.get(id);
            FleetRow before = told == null ? null : told.row;
            FleetRow row = FleetRow.of(face, feed.snapshot(id).orElse(null), lookedAt, before);
            if (!row.equals(before)) {
                rows.put(id, new Told(row, look));
            }
        }
        if (!ids.equals(order)) {
            // Forges came or went: what pages have cannot be mended row by row.
            order = List.copyOf(ids);
            rows.keySet().retainAll(ids);
            orderLook = look;
        }
    }

    /** The number of the look; 0 when all must be told. */
    private long lookOf(@Nullable String since) {
        if (since == null || !since.startsWith(run + ".")) {
            return 0;
        }
        try {
            long number = Long.parseLong(since, run.length() + 1, since.length(), 10);
            return number >= orderLook && number <= look ? number : 0;
        } catch (NumberFormatException e) {
            return 0;
        }
    }

    private Answer make(long from) {
        byte[] head = Json.object(json -> {
            json.writeStringField("at", run + "." + look);
            json.writeNumberField("serverT", lookedAt.epochSeconds());
            json.writeBooleanField("all", from == 0);
            json.writeNumberField("forges", order.size());
        });
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(4_096);
        // The head's brace is opened again for the rows, which are kept as bytes.
        bytes.write(head, 0, head.length - 1);
        bytes.writeBytes(",\"rows\":[".getBytes(StandardCharsets.UTF_8));
        boolean first = true;
        for (String id : order) {
            Told told = rows.get(id);
            if (told != null && told.look > from) {
                if (!first) {
                    bytes.write(',');
                }
                first = false;
                bytes.writeBytes(told.json);
            }
        }
        bytes.writeBytes("]}".getBytes(StandardCharsets.UTF_8));
        return new Answer(bytes.toByteArray());
    }

    private static byte[] json(FleetRow row) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(256);
        try (JsonGenerator json = Json.generator(bytes)) {
            row.write(json);
        } catch (IOException e) {
            throw new UncheckedIOException("writing JSON to memory", e);
        }
        return bytes.toByteArray();
    }

    private static byte[] compress(byte[] plain) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(plain.length / 8);
        try (GZIPOutputStream gzip = new GZIPOutputStream(bytes)) {
            gzip.write(plain);
        } catch (IOException e) {
            throw new UncheckedIOException("compressing in memory", e);
        }
        return bytes.toByteArray();
    }
}
