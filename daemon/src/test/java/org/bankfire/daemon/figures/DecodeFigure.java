package org.bankfire.daemon.figures;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.jspecify.annotations.Nullable;

/**
 * A fleet's messages into readings: by the daemon's decoder, and by a bare Jackson streaming parser that takes base name,
 * base time, names, units and values from the same bytes into as many values, and judges nothing: no names, units, ranges,
 * qualities, faults, base values, sums, or what RFC 8428 forbids.
 */
final class DecodeFigure {
    private static final int MESSAGES = 1_000;

    private final byte[][] messages = new byte[MESSAGES][];
    private final FrameDecoder decoder = FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null));
    private final JsonFactory json = new JsonFactory();
    private final int passes;

    private record Bare(String forge, String name, @Nullable String unit, double value, double timeS) {}

    private DecodeFigure(int passes) {
        this.passes = passes;
        ForgeValues values = ForgeValues.burning(1, MESSAGES, 10);
        PackBytes packs = new PackBytes("shed");
        for (int i = 0; i < MESSAGES; i++) {
            messages[i] = packs.pack(1_772_359_200_000_000L + i * 100_000L, values.tail(i));
        }
    }

    static List<Figure> figures(int passes, int rounds) throws Exception {
        DecodeFigure decode = new DecodeFigure(passes);
        Duel.Result result = Duel.of(rounds, decode::ours, decode::bare);
        return List.of(result.figure(
                "decode a message of four readings, SenML JSON",
                "messages/s",
                "bare Jackson streaming, nothing judged",
                "",
                Figure.Verdict.NO_TARGET));
    }

    private double ours() throws BadFrameException {
        WallTime now = new WallTime(1_772_359_300_000_000L);
        long readings = 0;
        long begin = System.nanoTime();
        for (int pass = 0; pass < passes; pass++) {
            for (byte[] message : messages) {
                readings += decoder.decode(message, now).readings().size();
            }
        }
        return rate(readings, System.nanoTime() - begin);
    }

    private double bare() throws IOException {
        long readings = 0;
        long begin = System.nanoTime();
        for (int pass = 0; pass < passes; pass++) {
            for (byte[] message : messages) {
                readings += parse(message).size();
            }
        }
        return rate(readings, System.nanoTime() - begin);
    }

    private double rate(long readings, long nanos) {
        long count = (long) passes * MESSAGES;
        if (readings != count * ForgeValues.CHANNELS) {
            throw new IllegalStateException(readings + " readings in " + count + " messages");
        }
        return count / (nanos / 1e9);
    }

    private List<Bare> parse(byte[] message) throws IOException {
        List<Bare> values = new ArrayList<>(ForgeValues.CHANNELS);
        String baseName = "";
        double baseTimeS = 0;
        try (JsonParser parser = json.createParser(message)) {
            parser.nextToken();
            while (parser.nextToken() == JsonToken.START_OBJECT) {
                String name = "";
                String unit = null;
                double value = Double.NaN;
                for (String field = parser.nextFieldName(); field != null; field = parser.nextFieldName()) {
                    parser.nextToken();
                    switch (field) {
                        case "bn" -> baseName = parser.getText();
                        case "bt" -> baseTimeS = parser.getDoubleValue();
                        case "n" -> name = parser.getText();
                        case "u" -> unit = parser.getText();
                        case "v" -> value = parser.getDoubleValue();
                        default -> parser.skipChildren();
                    }
                }
                values.add(new Bare(Objects.requireNonNull(baseName), name, unit, value, baseTimeS));
            }
        }
        return values;
    }
}
