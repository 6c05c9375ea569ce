package org.bankfire.daemon.acquire.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import org.junit.jupiter.api.Test;

class LineChecksumTest {
    /** Catalogue of parametrised CRC algorithms (G. Cook), CRC-16/IBM-3740, alias CRC-16/CCITT-FALSE: check 29b1. */
    @Test
    void givesThePublishedCheckValue() {
        byte[] check = bytes("123456789");

        assertThat(LineChecksum.crc(check, check.length)).isEqualTo(0x29B1);
    }

    @Test
    void agreesWithDivisionBitByBit() {
        Random random = new Random(20260301);
        for (int round = 0; round < 500; round++) {
            byte[] line = new byte[random.nextInt(200)];
            random.nextBytes(line);
            assertThat(LineChecksum.crc(line, line.length)).isEqualTo(bitByBit(line));
        }
    }

    @Test
    void cutsARightTrailerOffInEitherCase() throws BadFrameException {
        assertThat(LineChecksum.payloadLength(bytes("123456789 *29B1"), ChecksumPolicy.REQUIRED))
                .isEqualTo(9);
        assertThat(LineChecksum.payloadLength(bytes("123456789 *29b1\r"), ChecksumPolicy.OPTIONAL))
                .isEqualTo(9);
        assertThat(LineChecksum.payloadLength(LineChecksum.withTrailer(bytes("a,b")), ChecksumPolicy.REQUIRED))
                .isEqualTo(3);
    }

    @Test
    void findsEverySingleAndDoubleBitError() {
        byte[] line = LineChecksum.withTrailer(bytes("[{\"n\":\"shed:gas\",\"u\":\"Pa\",\"v\":34500}]"));
        int bits = (line.length - LineChecksum.TRAILER_BYTES) * 8;
        for (int first = 0; first < bits; first++) {
            for (int second = first; second < bits; second += 7) {
                byte[] bent = line.clone();
                bent[first / 8] ^= (byte) (1 << first % 8);
                if (second != first) {
                    bent[second / 8] ^= (byte) (1 << second % 8);
                }
                assertThatThrownBy(() -> LineChecksum.payloadLength(bent, ChecksumPolicy.OPTIONAL))
                        .isInstanceOf(BadFrameException.class)
                        .hasMessageStartingWith("checksum: the line says");
            }
        }
    }

    @Test
    void refusesALineWithoutItsCheckOnlyWhereItIsRequired() throws BadFrameException {
        assertThat(LineChecksum.payloadLength(bytes("1,2\r"), ChecksumPolicy.OPTIONAL))
                .isEqualTo(3);
        assertThatThrownBy(() -> LineChecksum.payloadLength(bytes("1,2"), ChecksumPolicy.REQUIRED))
                .isInstanceOf(BadFrameException.class)
                .hasMessageContaining("checksum: missing");
        assertThatThrownBy(() -> LineChecksum.payloadLength(bytes(""), ChecksumPolicy.REQUIRED))
                .isInstanceOf(BadFrameException.class);
    }

    private static int bitByBit(byte[] bytes) {
        int crc = 0xFFFF;
        for (byte b : bytes) {
            for (int bit = 7; bit >= 0; bit--) {
                boolean top = (crc & 0x8000) != 0;
                boolean in = (b >> bit & 1) != 0;
                crc = crc << 1 & 0xFFFF;
                if (top != in) {
                    crc ^= 0x1021;
                }
            }
        }
        return crc;
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }
}
