package org.bankfire.daemon.acquire.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.FrameFixtures.BadFrame;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class BadFramesTest {
    private static final WallTime NOW = WallTime.of(Instant.parse("2026-03-01T10:00:00Z"));
    private static final FrameDecoder SENML =
            FrameDecoders.ofLines(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null));
    private static final FrameDecoder COLUMNS = FrameDecoders.ofLines(new FrameFormat.Columns(
            ChecksumPolicy.OPTIONAL,
            "shed",
            ',',
            List.of(
                    new FrameFormat.Column("time", Unit.NONE),
                    new FrameFormat.Column("chamber", Unit.CELSIUS),
                    new FrameFormat.Column("", Unit.NONE),
                    new FrameFormat.Column("gas", Unit.PSI),
                    new FrameFormat.Column("chamber-fault", Unit.NONE),
                    new FrameFormat.Column("plug", Unit.NONE))));
    private static final int MUTATIONS = 100_000;

    static List<BadFrame> json() throws IOException {
        return FrameFixtures.badFrames("senml-json.txt");
    }

    static List<BadFrame> cbor() throws IOException {
        return FrameFixtures.badFrames("senml-cbor.txt");
    }

    static List<BadFrame> columns() throws IOException {
        return FrameFixtures.badFrames("columns.txt");
    }

    @ParameterizedTest
    @MethodSource("json")
    void refusesBadJsonAndSaysWhere(BadFrame frame) {
        assertRefused(SENML, frame, frame.text().getBytes(StandardCharsets.UTF_8));
    }

    @ParameterizedTest
    @MethodSource("cbor")
    void refusesBadCborAndSaysWhere(BadFrame frame) {
        assertRefused(SENML, frame, FrameFixtures.hex(frame.text()));
    }

    @ParameterizedTest
    @MethodSource("columns")
    void refusesBadColumnsAndSaysWhere(BadFrame frame) {
        assertRefused(COLUMNS, frame, frame.text().getBytes(StandardCharsets.UTF_8));
    }

    private static void assertRefused(FrameDecoder decoder, BadFrame frame, byte[] bytes) {
        assertThatThrownBy(() -> decoder.decode(bytes, NOW))
                .isInstanceOf(BadFrameException.class)
                .hasMessageContaining(frame.names());
    }

    @Test
    void refusesWhatWasCutFlippedOrSplicedWithNothingButABadFrameException() throws IOException {
        List<byte[]> good = new ArrayList<>(FrameFixtures.goodJson());
        good.add(FrameFixtures.rfcCborExample());
        good.add(FrameFixtures.rfcCborExample());
        good.add(FrameFixtures.hex("83a300697368" + "65643a666f7802c48221196ab306fb41da68e29b100000"
                + "a20067736865643a67617302fa4706c400a200677368" + "65643a67617303656f70656e21"));
        assertSurvives(SENML, good, 8428);
    }

    @Test
    void refusesBentColumnsWithNothingButABadFrameException() {
        List<byte[]> good = new ArrayList<>();
        for (String line : List.of(
                "1772359212.25,1103.2,x,5.1,none,in",
                "2026-03-01T10:00:12.250Z,open,,nan,range,",
                "2026-03-01T10:00:12+01:00,-3e2,x,+5.1,,out")) {
            byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
            good.add(bytes);
            good.add(LineChecksum.withTrailer(bytes));
        }
        assertSurvives(COLUMNS, good, 4180);
    }

    private static void assertSurvives(FrameDecoder decoder, List<byte[]> good, long seed) {
        Random random = new Random(seed);
        int[] outcomes = new int[2];
        Assertions.assertTimeoutPreemptively(Duration.ofMinutes(2), () -> {
            for (int i = 0; i < MUTATIONS; i++) {
                byte[] frame = FrameFixtures.mutated(
                        good.get(random.nextInt(good.size())), good.get(random.nextInt(good.size())), random);
                try {
                    assertThat(decoder.decode(frame, NOW)).isNotNull();
                    outcomes[0]++;
                } catch (BadFrameException e) {
                    assertThat(e.getMessage()).isNotBlank();
                    outcomes[1]++;
                } catch (RuntimeException e) {
                    throw new AssertionError("frame " + java.util.HexFormat.of().formatHex(frame), e);
                }
            }
        });
        // Both happen, or the mutations would not reach what they are to try.
        assertThat(outcomes[0]).isGreaterThan(MUTATIONS / 100);
        assertThat(outcomes[1]).isGreaterThan(MUTATIONS / 2);
    }
}
