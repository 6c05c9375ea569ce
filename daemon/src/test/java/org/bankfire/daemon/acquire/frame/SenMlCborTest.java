package org.bankfire.daemon.acquire.frame;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Base64;
import java.util.Map;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

class SenMlCborTest {
    private static final WallTime NOW = WallTime.of(Instant.parse("2026-03-01T10:00:00Z"));
    private static final Path EXAMPLES =
            Path.of(System.getProperty("bankfire.fixtures"), "senml", "rfc8428_json_examples.json");
    private static final SenMlDecoder DECODER =
            new SenMlDecoder(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, "shed"), FrameDecoders.MAX_MESSAGE_BYTES);

    /** RFC 8428 section 6 encodes the third example of section 5.1.2. */
    @Test
    void decodesTheRfcsCborExampleAsItsJsonExample() throws Exception {
        JsonNode json = new ObjectMapper().readTree(EXAMPLES.toFile()).get(5);

        Pack pack = DECODER.decode(FrameFixtures.rfcCborExample(), NOW);

        assertThat(pack).isEqualTo(DECODER.decode(json.toString().getBytes(StandardCharsets.UTF_8), NOW));
        assertThat(pack.readings()).extracting(Reading::value).containsExactly(120.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7);
    }

    @Test
    void decodesEveryJsonExampleOfTheRfcTheSameFromCbor() throws Exception {
        JsonNode examples = new ObjectMapper().readTree(EXAMPLES.toFile());
        for (JsonNode example : examples) {
            Pack fromJson = DECODER.decode(example.toString().getBytes(StandardCharsets.UTF_8), NOW);
            for (Style style : Style.values()) {
                assertThat(DECODER.decode(encoded(example, style), NOW))
                        .as("%s of %s", style, example)
                        .isEqualTo(fromJson);
            }
        }
    }

    /** RFC 8949 section 3.4.4: tag 4 over [exponent, mantissa]; 273.15 is its example, c4 82 21 19 6ab3. */
    @Test
    void takesDecimalFractions() throws Exception {
        byte[] frame = FrameFixtures.hex("81 a2 00 66 736865643a61 02 c4 82 21 19 6ab3");

        assertThat(DECODER.decode(frame, NOW).readings())
                .extracting(Reading::value)
                .containsExactly(273.15);
    }

    @Test
    void takesTheTagThatSaysThisIsCborAndIndefiniteLengths() throws Exception {
        byte[] tagged = FrameFixtures.hex("d9d9f7 81 a2 00 66 736865643a61 02 18 2a");
        byte[] indefinite = FrameFixtures.hex("9f bf 00 66 736865643a61 02 18 2a ff ff");

        assertThat(DECODER.decode(tagged, NOW)).isEqualTo(DECODER.decode(indefinite, NOW));
        assertThat(DECODER.decode(tagged, NOW).readings())
                .extracting(Reading::value)
                .containsExactly(42.0);
    }

    /** How the test's own encoder writes. */
    private enum Style {
        INTEGER_LABELS,
        TEXT_LABELS,
        INDEFINITE
    }

    /** A CBOR encoder of its own (RFC 8949), so that the decoder's library does not answer for itself. */
    private static byte[] encoded(JsonNode pack, Style style) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        DataOutputStream out = new DataOutputStream(bytes);
        boolean indefinite = style == Style.INDEFINITE;
        head(out, 4, pack.size(), indefinite);
        for (JsonNode record : pack) {
            head(out, 5, record.size(), indefinite);
            for (Map.Entry<String, JsonNode> field : record.properties()) {
                if (style == Style.TEXT_LABELS) {
                    text(out, field.getKey());
                } else {
                    integer(out, label(field.getKey()));
                }
                value(out, field.getKey(), field.getValue());
            }
            end(out, indefinite);
        }
        end(out, indefinite);
        return bytes.toByteArray();
    }

    private static void value(DataOutputStream out, String label, JsonNode value) throws IOException {
        if (value.isBoolean()) {
            out.writeByte(value.booleanValue() ? 0xF5 : 0xF4);
        } else if (label.equals("vd")) {
            byte[] octets = Base64.getUrlDecoder().decode(value.textValue());
            head(out, 2, octets.length, false);
            out.write(octets);
        } else if (value.isTextual()) {
            text(out, value.textValue());
        } else if (new BigDecimal(value.asText()).stripTrailingZeros().scale() <= 0) {
            integer(out, value.asLong());
        } else {
            out.writeByte(0xFB);
            out.writeDouble(value.doubleValue());
        }
    }

    /** RFC 8428 table 4. */
    private static int label(String label) {
        return switch (label) {
            case "bver" -> -1;
            case "bn" -> -2;
            case "bt" -> -3;
            case "bu" -> -4;
            case "bv" -> -5;
            case "bs" -> -6;
            case "n" -> 0;
            case "u" -> 1;
            case "v" -> 2;
            case "vs" -> 3;
            case "vb" -> 4;
            case "s" -> 5;
            case "t" -> 6;
            case "ut" -> 7;
            case "vd" -> 8;
            default -> throw new IllegalArgumentException(label);
        };
    }

    private static void text(DataOutputStream out, String text) throws IOException {
        byte[] utf8 = text.getBytes(StandardCharsets.UTF_8);
        head(out, 3, utf8.length, false);
        out.write(utf8);
    }

    private static void integer(DataOutputStream out, long value) throws IOException {
        head(out, value < 0 ? 1 : 0, value < 0 ? -1 - value : value, false);
    }

    private static void head(DataOutputStream out, int major, long argument, boolean indefinite) throws IOException {
        int high = major << 5;
        if (indefinite) {
            out.writeByte(high | 31);
        } else if (argument < 24) {
            out.writeByte(high | (int) argument);
        } else if (argument < 0x100) {
            out.writeByte(high | 24);
            out.writeByte((int) argument);
        } else if (argument < 0x10000) {
            out.writeByte(high | 25);
            out.writeShort((int) argument);
        } else {
            out.writeByte(high | 27);
            out.writeLong(argument);
        }
    }

    private static void end(DataOutputStream out, boolean indefinite) throws IOException {
        if (indefinite) {
            out.writeByte(0xFF);
        }
    }
}
