package org.bankfire.daemon.acquire.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class SenMlDecoderTest {
    private static final WallTime NOW = WallTime.of(Instant.parse("2026-03-01T10:00:00Z"));
    private static final Path EXAMPLES =
            Path.of(System.getProperty("bankfire.fixtures"), "senml", "rfc8428_json_examples.json");

    @Test
    void decodesEveryExampleOfTheRfcWithAndWithoutADefaultForge() throws Exception {
        JsonNode examples = new ObjectMapper().readTree(EXAMPLES.toFile());
        assertThat(examples).hasSize(13);
        for (JsonNode example : examples) {
            int values = 0;
            for (JsonNode record : example) {
                values += record.has("v") || record.has("vs") || record.has("vb") || record.has("vd") ? 1 : 0;
            }
            byte[] bytes = example.toString().getBytes(StandardCharsets.UTF_8);
            for (String forge : new @Nullable String[] {"shed", null}) {
                Pack pack = decoder(forge).decode(bytes, NOW);
                assertThat(pack.readings().size() + pack.notes().size()).isEqualTo(values);
            }
        }
    }

    /** RFC 8428 section 5.1.4 is section 5.1.3 resolved. */
    @Test
    void resolvesTheRfcsExampleAsTheRfcDoes() throws Exception {
        JsonNode examples = new ObjectMapper().readTree(EXAMPLES.toFile());
        JsonNode resolved = examples.get(7);

        Pack pack = decoder("shed").decode(examples.get(6).toString().getBytes(StandardCharsets.UTF_8), NOW);

        List<String> expected = new ArrayList<>();
        for (JsonNode record : resolved) {
            expected.add(record.get("n").asText() + " " + record.get("u").asText() + " "
                    + record.get("t").asLong() + " " + record.get("v").asDouble());
        }
        List<String> got = new ArrayList<>();
        for (Reading reading : pack.readings()) {
            got.add(reading.channel().name() + " " + reading.unit().symbol() + " "
                    + reading.sourceTime().epochMicros() / 1_000_000 + " " + reading.value());
            assertThat(reading.channel().forge()).isEqualTo("shed");
            assertThat(reading.receiptTime()).isEqualTo(NOW);
        }
        assertThat(got).containsExactlyElementsOf(expected).hasSize(13);
    }

    @Test
    void resolvesBaseTimeAndUnitOfTheRfcsThirdExampleToTheMicrosecond() throws Exception {
        JsonNode example = new ObjectMapper().readTree(EXAMPLES.toFile()).get(5);

        Pack pack = decoder("shed").decode(example.toString().getBytes(StandardCharsets.UTF_8), NOW);

        assertThat(pack.readings())
                .extracting(reading -> reading.sourceTime().epochMicros())
                .containsExactly(
                        1_276_020_076_001_000L,
                        1_276_020_071_001_000L,
                        1_276_020_072_001_000L,
                        1_276_020_073_001_000L,
                        1_276_020_074_001_000L,
                        1_276_020_075_001_000L,
                        1_276_020_076_001_000L);
        assertThat(pack.readings())
                .extracting(Reading::unit)
                .containsExactly(
                        Unit.VOLT, Unit.AMPERE, Unit.AMPERE, Unit.AMPERE, Unit.AMPERE, Unit.AMPERE, Unit.AMPERE);
    }

    @Test
    void readsALineOfTheContract() throws BadFrameException {
        Pack pack = decode("[{\"bn\":\"shed:\",\"n\":\"chamber\",\"u\":\"Cel\",\"v\":1103.2},"
                + "{\"n\":\"gas\",\"u\":\"kPa\",\"v\":34.5},{\"n\":\"seq\",\"v\":17}]");

        assertThat(pack.readings())
                .containsExactly(
                        good("chamber", 1103.2, Unit.CELSIUS, NOW),
                        good("gas", 34.5, Unit.KILOPASCAL, NOW),
                        good("seq", 17, Unit.NONE, NOW));
    }

    @Test
    void appliesABaseFromTheRecordThatCarriesItWhateverTheOrderOfItsFields() throws BadFrameException {
        Pack pack = decode("[{\"v\":1,\"n\":\"a\",\"bn\":\"shed:\",\"bu\":\"V\",\"bv\":10},{\"n\":\"b\",\"v\":2},"
                + "{\"bn\":\"barn:\",\"bv\":-1,\"n\":\"a\",\"u\":\"A\",\"v\":3}]");

        assertThat(pack.readings())
                .extracting(r -> r.channel() + " " + r.value() + " " + r.unit().symbol())
                .containsExactly("shed:a 11.0 V", "shed:b 12.0 V", "barn:a 2.0 A");
    }

    @Test
    void takesTimesBelowTwoToThe28AsRelativeAndOthersAsAbsolute() throws BadFrameException {
        assertThat(timeOf("\"t\":-5.25")).isEqualTo(NOW.plusMicros(-5_250_000));
        assertThat(timeOf("\"t\":3")).isEqualTo(NOW.plusMicros(3_000_000));
        assertThat(timeOf("\"t\":268435455")).isEqualTo(NOW.plusMicros(268_435_455_000_000L));
        assertThat(timeOf("\"bt\":-10,\"t\":4")).isEqualTo(NOW.plusMicros(-6_000_000));
        assertThat(timeOf("\"t\":1772359212.250001")).isEqualTo(new WallTime(1_772_359_212_250_001L));
        assertThat(timeOf("\"t\":1.77235921225e9")).isEqualTo(new WallTime(1_772_359_212_250_000L));
        assertThat(timeOf("\"bt\":1772359212,\"t\":0.000001")).isEqualTo(new WallTime(1_772_359_212_000_001L));
        assertThat(timeOf("\"t\":7258118399.999999")).isEqualTo(new WallTime(7_258_118_399_999_999L));
        assertThatThrownBy(() -> timeOf("\"t\":268435456")).hasMessageContaining("\"t\"");
    }

    @Test
    void keepsUnitsThatItDoesNotKnowByName() throws BadFrameException {
        Reading reading = decode("[{\"n\":\"shed:draught\",\"u\":\"m/s\",\"v\":0.4}]")
                .readings()
                .get(0);

        assertThat(reading.unit()).isEqualTo(Unit.ofSymbol("m/s"));
    }

    @Test
    void splitsAtTheFirstColonAndLeavesTheRestToTheChannel() throws BadFrameException {
        assertThat(channelOf("shed:chamber", null)).isEqualTo(new Channel("shed", "chamber"));
        assertThat(channelOf("shed:zone:2/left", "barn")).isEqualTo(new Channel("shed", "zone:2/left"));
        assertThat(channelOf("chamber", "barn")).isEqualTo(new Channel("barn", "chamber"));
        assertThat(channelOf("a/b:c", "barn")).isEqualTo(new Channel("barn", "a/b:c"));
    }

    @Test
    void takesAUrnForAChannelOfTheDefaultForgeAndSplitsItOnlyWithoutOne() throws BadFrameException {
        String urn = "urn:dev:ow:10e2073a01080063:voltage";

        assertThat(channelOf(urn, "shed")).isEqualTo(new Channel("shed", urn));
        assertThat(channelOf(urn, null)).isEqualTo(new Channel("urn", "dev:ow:10e2073a01080063:voltage"));
    }

    @Test
    void goesOnSplittingNamesWhenItsTableIsFull() throws BadFrameException {
        SenMlDecoder decoder = decoder(null);
        for (int i = 0; i < RecordNames.MAX_KEPT + 100; i++) {
            Pack pack = decoder.decode(bytes("[{\"n\":\"shed:c" + i + "\",\"v\":1}]"), NOW);
            assertThat(pack.readings().get(0).channel().name()).isEqualTo("c" + i);
        }
    }

    @Test
    void readsBooleansAsOneAndZero() throws BadFrameException {
        assertThat(decode("[{\"bn\":\"shed:\",\"n\":\"flame\",\"vb\":true},{\"n\":\"fan\",\"vb\":false}]")
                        .readings())
                .extracting(Reading::value)
                .containsExactly(1.0, 0.0);
    }

    @Test
    void makesAFaultABadReadingOfTheChannelThatItSpeaksOf() throws BadFrameException {
        assertThat(faultOf("open")).isEqualTo(Quality.OPEN);
        assertThat(faultOf("short-ground")).isEqualTo(Quality.SHORT_TO_GROUND);
        assertThat(faultOf("short-supply")).isEqualTo(Quality.SHORT_TO_SUPPLY);
        assertThat(faultOf("range")).isEqualTo(Quality.RANGE);
        assertThat(faultOf("smoking")).isEqualTo(Quality.FAULT);
        assertThat(decode("[{\"n\":\"shed:chamber-fault\",\"vs\":\"none\"}]"))
                .isEqualTo(new Pack(List.of(), List.of(), List.of()));
        assertThat(decode("[{\"n\":\"shed:chamber-fault\",\"vb\":true}]").readings())
                .extracting(Reading::quality)
                .containsExactly(Quality.FAULT);
        assertThat(decode("[{\"n\":\"shed:chamber-fault\",\"vb\":false}]").readings())
                .isEmpty();
    }

    @Test
    void mergesAFaultWithTheValueThatCameBesideItForTheyShareAKey() throws BadFrameException {
        Reading merged =
                new Reading(new Channel("shed", "chamber"), 1372, Unit.CELSIUS, Double.NaN, Quality.RANGE, NOW, NOW);
        String value = "{\"n\":\"shed:chamber\",\"u\":\"Cel\",\"v\":1372}";
        String fault = "{\"n\":\"shed:chamber-fault\",\"vs\":\"range\"}";

        assertThat(decode("[" + value + "," + fault + "]").readings()).containsExactly(merged);
        assertThat(decode("[" + fault + "," + value + "]").readings()).containsExactly(merged);
        assertThat(decode("[" + value.replace("\"v\"", "\"t\":-1,\"v\"") + "," + fault + "]")
                        .readings())
                .hasSize(2);
    }

    @Test
    void readsSettingsAsNumberOrText() throws BadFrameException {
        Pack pack = decode("[{\"bn\":\"shed:\",\"bu\":\"Cel\",\"n\":\"plug\",\"vs\":\"out\"},"
                + "{\"n\":\"setting-jet\",\"u\":\"mm\",\"v\":0.80},{\"n\":\"setting-choke\",\"u\":\"\",\"v\":3.0}]");

        assertThat(pack.settings())
                .containsExactly(
                        new Setting("shed", NOW, "plug", "out", ""),
                        new Setting("shed", NOW, "setting-jet", "0.8", "mm"),
                        new Setting("shed", NOW, "setting-choke", "3", ""));
        assertThat(pack.readings()).isEmpty();
    }

    @Test
    void makesNotesOfOtherTextAndOfData() throws BadFrameException {
        Pack pack = decode(
                "[{\"bn\":\"shed:\",\"n\":\"note\",\"vs\":\"new brick, \\u00bd inch\"},"
                        + "{\"n\":\"stock\",\"vs\":\"in\"},{\"n\":\"stock\",\"u\":\"Cel\",\"v\":20},{\"n\":\"blob\",\"vd\":\"aGkgCg\"}]");

        assertThat(pack.notes())
                .containsExactly(
                        new Note("shed", NOW, "note", "new brick, ½ inch"),
                        new Note("shed", NOW, "stock", "in"),
                        new Note("shed", NOW, "blob", "aGkgCg"));
        assertThat(pack.readings()).containsExactly(good("stock", 20, Unit.CELSIUS, NOW));
    }

    @Test
    void keepsSumsInAChannelOfTheirOwn() throws BadFrameException {
        Pack pack = decode("[{\"bn\":\"shed:\",\"n\":\"power\",\"u\":\"W\",\"v\":5,\"s\":120.5},"
                + "{\"n\":\"power\",\"u\":\"W\",\"s\":7},{\"bs\":100,\"n\":\"power\",\"s\":1},{\"n\":\"x\",\"v\":2}]");

        assertThat(pack.readings())
                .extracting(r ->
                        r.channel().name() + " " + r.value() + " " + r.unit().symbol())
                .containsExactly(
                        "power 5.0 W",
                        "power-sum 120.5 W s",
                        "power-sum 7.0 W s",
                        "power-sum 101.0 s",
                        "x 2.0 ",
                        "x-sum 100.0 s");
    }

    @Test
    void passesOverUnknownLabelsAndTheirContent() throws BadFrameException {
        assertThat(decode("[{\"x\":{\"v\":[1,{}]},\"n\":\"shed:a\",\"l\":\"y\",\"v\":1,\"quality\":\"open\"}]")
                        .readings())
                .containsExactly(good("a", 1, Unit.NONE, NOW));
    }

    @Test
    void takesKnownVersionsThatAllRecordsShare() throws BadFrameException {
        assertThat(decode("[{\"bver\":26,\"n\":\"shed:a\",\"v\":1},{\"bver\":26,\"n\":\"shed:b\",\"v\":1}]")
                        .readings())
                .hasSize(2);
        assertThat(decode("[{\"n\":\"shed:a\",\"v\":1},{\"bver\":10,\"n\":\"shed:b\",\"v\":1}]")
                        .readings())
                .hasSize(2);
    }

    @Test
    void boundsLinesMessagesAndRecords() throws BadFrameException {
        FrameFormat.SenMl format = new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null);
        byte[] line = packOf(FrameDecoders.MAX_LINE_BYTES);
        byte[] longer = packOf(FrameDecoders.MAX_LINE_BYTES + 1);
        byte[] message = packOf(FrameDecoders.MAX_MESSAGE_BYTES);

        assertThat(FrameDecoders.ofLines(format).decode(line, NOW).readings()).hasSize(1);
        assertThatThrownBy(() -> FrameDecoders.ofLines(format).decode(longer, NOW))
                .hasMessage("frame is 4097 bytes long; allowed are 4096");
        assertThat(FrameDecoders.of(format).decode(message, NOW).readings()).hasSize(1);
        assertThatThrownBy(() -> FrameDecoders.of(format).decode(packOf(65_537), NOW))
                .hasMessageContaining("65536");

        String records = "{\"n\":\"shed:a\",\"v\":1},".repeat(SenMlDecoder.MAX_RECORDS);
        assertThat(decode("[" + records.substring(0, records.length() - 1) + "]")
                        .readings())
                .hasSize(512);
        assertThatThrownBy(() -> decode("[" + records + "{\"n\":\"shed:a\",\"v\":1}]"))
                .hasMessageContaining("512");
    }

    @Test
    void refusesANoteLongerThanANoteMayBe() {
        assertThatThrownBy(() -> decode("[{\"n\":\"shed:note\",\"vs\":\"" + "x".repeat(4_001) + "\"}]"))
                .isInstanceOf(BadFrameException.class)
                .hasMessageContaining("\"vs\"")
                .hasMessageContaining("4000");
    }

    @Test
    void refusesWiderEncodingsThanUtf8() {
        byte[] utf16 = "[{\"n\":\"shed:a\",\"v\":1}]".getBytes(StandardCharsets.UTF_16LE);

        assertThatThrownBy(() -> decoder(null).decode(utf16, NOW))
                .isInstanceOf(BadFrameException.class)
                .hasMessageContaining("UTF-8");
    }

    @Test
    void checksTheLinesChecksumAndKnowsWhereItIsRequired() throws BadFrameException {
        SenMlDecoder required = new SenMlDecoder(new FrameFormat.SenMl(ChecksumPolicy.REQUIRED, null), 4_096);
        byte[] pack = bytes("[{\"n\":\"shed:a\",\"v\":1}]");

        assertThat(required.decode(LineChecksum.withTrailer(pack), NOW).readings())
                .hasSize(1);
        assertThat(decoder(null).decode(LineChecksum.withTrailer(pack), NOW).readings())
                .hasSize(1);
        assertThatThrownBy(() -> required.decode(pack, NOW)).hasMessageContaining("checksum: missing");
        assertThatThrownBy(() -> required.decode(new byte[] {(byte) 0x81}, NOW)).hasMessageContaining("checksum");
    }

    @Test
    void neverLetsControlCharactersOfTheWireIntoAMessage() {
        assertThatThrownBy(() -> decode("[{\"n\":\"shed:\\u001b[2J\\u0007x\",\"v\":1}]"))
                .isInstanceOf(BadFrameException.class)
                .satisfies(
                        e -> assertThat(String.valueOf(e.getMessage()).chars().noneMatch(Character::isISOControl))
                                .isTrue());
    }

    private static SenMlDecoder decoder(@Nullable String defaultForge) {
        return new SenMlDecoder(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, defaultForge), 65_536);
    }

    private static Pack decode(String pack) throws BadFrameException {
        return decoder(null).decode(bytes(pack), NOW);
    }

    private static Channel channelOf(String name, @Nullable String defaultForge) throws BadFrameException {
        return decoder(defaultForge)
                .decode(bytes("[{\"n\":\"" + name + "\",\"v\":1}]"), NOW)
                .readings()
                .get(0)
                .channel();
    }

    private static WallTime timeOf(String fields) throws BadFrameException {
        return decode("[{\"n\":\"shed:a\"," + fields + ",\"v\":1}]")
                .readings()
                .get(0)
                .sourceTime();
    }

    private static Quality faultOf(String word) throws BadFrameException {
        Reading reading = decode("[{\"n\":\"shed:chamber-fault\",\"vs\":\"" + word + "\"}]")
                .readings()
                .get(0);
        assertThat(reading.channel()).isEqualTo(new Channel("shed", "chamber"));
        assertThat(reading.value()).isNaN();
        return reading.quality();
    }

    private static Reading good(String name, double value, Unit unit, WallTime time) {
        return Reading.good(new Channel("shed", name), value, unit, time, NOW);
    }

    private static byte[] packOf(int length) {
        String start = "[{\"n\":\"shed:a\",\"x\":\"";
        String end = "\",\"v\":1}]";
        return bytes(start + "y".repeat(length - start.length() - end.length()) + end);
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
