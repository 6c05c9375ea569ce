package org.bankfire.daemon.acquire.frame;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.dataformat.cbor.CBORFactory;
import java.io.IOException;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * SenML packs (RFC 8428) in JSON or CBOR, by the first byte.
 *
 * <p>What becomes of a record, by its value:
 *
 * <ul>
 *   <li>{@code v}: a reading of good quality in the unit as received, its uncertainty not known; {@code vb}: the same, 1
 *       or 0
 *   <li>{@code vs} of a name ending in {@code -fault}: a bad reading without a value of the channel before that ending,
 *       {@code none} nothing; with a value of the same channel and time in the pack, both are one bad reading.
 *       {@code vb} true of such a name is a fault of no known kind
 *   <li>{@code vs}, {@code v} or {@code vb} of {@code plug} and {@code setting-…}: a setting
 *   <li>any other {@code vs}: a note named as the record; {@code vd} too, its text being the base64
 *   <li>{@code s}: a reading of a channel of its own, the record's name and {@code -sum}, in the record's unit times
 *       seconds ({@code W s}), beside the value if there is one. With a base sum in force every record has a sum, as
 *       RFC 8428 section 4.5.4 says
 * </ul>
 *
 * <p>How names are split is told at {@link RecordNames}. Labels of CBOR may be integers or, as translators leave them,
 * text.
 *
 * <p>A pack with one bad record is refused whole: RFC 8428 asks for an error, base fields may have changed in what could
 * not be read, and half a pack could pair a voltage with the wrong cold junction. The loss is counted and reported by
 * whoever calls, and the next pack stands by itself.
 *
 * <p>Safe for several threads; it keeps nothing but a bounded table of names.
 */
public final class SenMlDecoder implements FrameDecoder {
    /** Records of one pack: more than fit into a line, and a bound on the work that one message can ask for. */
    public static final int MAX_RECORDS = 512;

    /** The pack, its records, and room for an unknown label that holds a little structure. */
    private static final int MAX_NESTING = 16;

    private static final int MAX_LABEL_LENGTH = 256;
    private static final int MAX_NUMBER_LENGTH = 400;

    private static final StreamReadConstraints CONSTRAINTS = StreamReadConstraints.builder()
            .maxNestingDepth(MAX_NESTING)
            .maxNameLength(MAX_LABEL_LENGTH)
            .maxNumberLength(MAX_NUMBER_LENGTH)
            .maxStringLength(FrameDecoders.MAX_MESSAGE_BYTES)
            .maxDocumentLength(FrameDecoders.MAX_MESSAGE_BYTES)
            .build();
    private static final JsonFactory JSON = new JsonFactoryBuilder()
            .streamReadConstraints(CONSTRAINTS)
            .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
            .disable(JsonFactory.Feature.INTERN_FIELD_NAMES)
            .build();
    private static final CBORFactory CBOR =
            CBORFactory.builder().streamReadConstraints(CONSTRAINTS).build();

    private final ChecksumPolicy checksum;
    private final RecordNames names;
    private final int maxBytes;
    private final boolean recorded;

    /**
     * For frames of live sources.
     *
     * @param maxBytes longest frame, its check included
     */
    public SenMlDecoder(FrameFormat.SenMl format, int maxBytes) {
        this(format.checksum(), format.defaultForge(), maxBytes, false);
    }

    private SenMlDecoder(ChecksumPolicy checksum, @Nullable String defaultForge, int maxBytes, boolean recorded) {
        this.checksum = checksum;
        this.names = new RecordNames(defaultForge);
        this.maxBytes = maxBytes;
        this.recorded = recorded;
    }

    /**
     * For lines of recorded burns: every time must be absolute, the receipt time is the source time, and three more
     * labels are read (RFC 8428 section 4.4 lets any reader pass over them): {@code quality} (a code), {@code
     * uncertainty} (standard, in the record's unit) and {@code received} (Unix seconds).
     */
    public static SenMlDecoder forRecordedBurns() {
        return new SenMlDecoder(ChecksumPolicy.OPTIONAL, null, FrameDecoders.MAX_MESSAGE_BYTES, true);
    }

    @Override
    public Pack decode(byte[] bytes, WallTime receiptTime) throws BadFrameException {
        FrameDecoders.checkLength(bytes, maxBytes);
        int start = 0;
        while (start < bytes.length && isBlank(bytes[start])) {
            start++;
        }
        if (start == bytes.length) {
            throw new BadFrameException("pack is empty; allowed is an array of 1 to " + MAX_RECORDS + " records");
        }
        // CBOR: major type 4 (array), or the tag that says "this is CBOR" (RFC 8949 section 3.4.6).
        int first = bytes[start] & 0xFF;
        boolean cbor = start == 0 && ((first & 0xE0) == 0x80 || first == 0xD9);
        int end = bytes.length;
        if (!cbor) {
            checkJsonStart(bytes, start);
            end = LineChecksum.payloadLength(bytes, checksum);
        } else if (checksum == ChecksumPolicy.REQUIRED) {
            throw new BadFrameException("checksum: missing; CBOR carries none, allowed is JSON with its check");
        }
        SenMlResolver resolver = new SenMlResolver(names, receiptTime, recorded);
        try (JsonParser parser = (cbor ? CBOR : JSON).createParser(bytes, start, Math.max(0, end - start))) {
            resolve(parser, resolver, new SenMlRecord(cbor, recorded));
        } catch (JsonProcessingException e) {
            throw new BadFrameException(
                    "pack is no " + (cbor ? "CBOR" : "JSON") + ": " + briefly(e.getOriginalMessage()));
        } catch (IOException e) {
            throw new BadFrameException("pack cannot be read: " + briefly(String.valueOf(e.getMessage())));
        }
        return resolver.pack();
    }

    private static void resolve(JsonParser parser, SenMlResolver resolver, SenMlRecord record)
            throws IOException, BadFrameException {
        if (parser.nextToken() != JsonToken.START_ARRAY) {
            throw new BadFrameException("pack is no array; allowed is an array of records");
        }
        int number = 0;
        for (JsonToken token = parser.nextToken(); token != JsonToken.END_ARRAY; token = parser.nextToken()) {
            number++;
            if (token == null) {
                throw new BadFrameException("pack ends before its closing bracket, after record " + (number - 1));
            }
            if (token != JsonToken.START_OBJECT) {
                throw new BadFrameException("record " + number + " is no object; allowed is an object of fields");
            }
            if (number > MAX_RECORDS) {
                throw new BadFrameException("pack has more records than the " + MAX_RECORDS + " allowed");
            }
            try {
                record.read(parser);
                resolver.add(record);
            } catch (BadFrameException e) {
                throw new BadFrameException("record " + number + ": " + e.getMessage());
            } catch (JsonProcessingException e) {
                String label = parser.currentName();
                throw new BadFrameException("record " + number + ": field "
                        + (label == null ? "at its start" : TextValues.quoted(record.inWords(label))) + ": "
                        + briefly(e.getOriginalMessage()));
            }
        }
        if (number == 0) {
            throw new BadFrameException("pack has no records; allowed are 1 to " + MAX_RECORDS);
        }
        if (parser.nextToken() != null) {
            throw new BadFrameException(
                    "pack is followed by something else; allowed is one array, and on a line its checksum");
        }
    }

    /** RFC 8428 section 5 allows UTF-8 alone; the parser would guess at wider encodings by their zero bytes. */
    private static void checkJsonStart(byte[] bytes, int start) throws BadFrameException {
        if (bytes[start] != '[' || (start + 1 < bytes.length && bytes[start + 1] == 0)) {
            throw new BadFrameException(String.format(
                    "pack starts with byte %02X; allowed is '[' in UTF-8, or a CBOR array", bytes[start] & 0xFF));
        }
    }

    private static boolean isBlank(byte b) {
        return b == ' ' || b == '\t' || b == '\r' || b == '\n';
    }

    private static String briefly(String message) {
        // The parser quotes its input; what a frame holds goes into a message only cut and made printable.
        String quoted = TextValues.quoted(message);
        return quoted.substring(1, quoted.length() - 1);
    }
}
