package org.bankfire.daemon.figures;

import java.nio.charset.StandardCharsets;

/** Packs with absolute times, put together from bytes that stand ready. */
final class PackBytes {
    private static final int TIME_DIGITS = 17; // ten of seconds, a point, six of microseconds

    private final byte[] head;

    PackBytes(String forge) {
        head = ("[{\"bn\":\"" + forge + ":\",\"bt\":").getBytes(StandardCharsets.US_ASCII);
    }

    /** Length of the pack that ends with {@code tail}. */
    int length(byte[] tail) {
        return head.length + TIME_DIGITS + 1 + tail.length;
    }

    /** Writes the pack of that moment (µs since 1970, later than 2001) and returns where it ends. */
    int write(byte[] target, int from, long micros, byte[] tail) {
        System.arraycopy(head, 0, target, from, head.length);
        int end = from + head.length + TIME_DIGITS;
        long left = micros;
        for (int i = 1; i <= TIME_DIGITS; i++) {
            if (i == 7) {
                target[end - i] = '.';
            } else {
                target[end - i] = (byte) ('0' + left % 10);
                left /= 10;
            }
        }
        target[end] = ',';
        System.arraycopy(tail, 0, target, end + 1, tail.length);
        return end + 1 + tail.length;
    }

    /** The pack alone. */
    byte[] pack(long micros, byte[] tail) {
        byte[] bytes = new byte[length(tail)];
        write(bytes, 0, micros, tail);
        return bytes;
    }
}
