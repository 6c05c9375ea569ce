package org.bankfire.daemon.acquire.frame;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * The check at the end of a line: a space, {@code *} and four hex digits, CRC-16/CCITT-FALSE over the bytes before the
 * space (polynomial 1021, start FFFF, no reflection, no final exclusive-or; {@code 123456789} gives 29B1).
 */
public final class LineChecksum {
    /** Space, star, four digits. */
    public static final int TRAILER_BYTES = 6;

    private static final int POLYNOMIAL = 0x1021;
    private static final int START = 0xFFFF;
    private static final int[] TABLE = table();

    private LineChecksum() {}

    /** CRC-16/CCITT-FALSE of {@code bytes[0]} to {@code bytes[length - 1]}, 0 to 65,535. */
    public static int crc(byte[] bytes, int length) {
        int crc = START;
        for (int i = 0; i < length; i++) {
            crc = ((crc << 8) ^ TABLE[((crc >> 8) ^ bytes[i]) & 0xFF]) & 0xFFFF;
        }
        return crc;
    }

    /** {@code payload} with its check appended, without a line end. */
    public static byte[] withTrailer(byte[] payload) {
        byte[] trailer = String.format(" *%04X", crc(payload, payload.length)).getBytes(StandardCharsets.US_ASCII);
        byte[] line = Arrays.copyOf(payload, payload.length + trailer.length);
        System.arraycopy(trailer, 0, line, payload.length, trailer.length);
        return line;
    }

    /**
     * Length of the line without its check and without a carriage return at its end.
     *
     * @throws BadFrameException when the check is wrong, or missing where it is required
     */
    public static int payloadLength(byte[] line, ChecksumPolicy policy) throws BadFrameException {
        int end = line.length;
        if (end > 0 && line[end - 1] == '\r') {
            end--;
        }
        int payload = end - TRAILER_BYTES;
        if (payload < 0 || line[payload] != ' ' || line[payload + 1] != '*') {
            if (policy == ChecksumPolicy.REQUIRED) {
                throw new BadFrameException(
                        "checksum: missing; a line must end in a space, '*' and four hex digits (CRC-16/CCITT-FALSE)");
            }
            return end;
        }
        int given = hex(line, payload + 2, end);
        if (given < 0) {
            String text = new String(line, payload + 2, 4, StandardCharsets.ISO_8859_1);
            throw new BadFrameException("checksum: " + TextValues.quoted(text) + "; allowed are four hex digits");
        }
        int expected = crc(line, payload);
        if (given != expected) {
            throw new BadFrameException(
                    String.format("checksum: the line says %04X; allowed is %04X, as its bytes give", given, expected));
        }
        return payload;
    }

    private static int hex(byte[] bytes, int from, int to) {
        int value = 0;
        for (int i = from; i < to; i++) {
            int digit = bytes[i] < 0 ? -1 : Character.digit(bytes[i], 16);
            if (digit < 0) {
                return -1;
            }
            value = value << 4 | digit;
        }
        return value;
    }

    private static int[] table() {
        int[] table = new int[256];
        for (int high = 0; high < table.length; high++) {
            int crc = high << 8;
            for (int bit = 0; bit < 8; bit++) {
                crc = (crc & 0x8000) != 0 ? crc << 1 ^ POLYNOMIAL : crc << 1;
            }
            table[high] = crc & 0xFFFF;
        }
        return table;
    }
}
