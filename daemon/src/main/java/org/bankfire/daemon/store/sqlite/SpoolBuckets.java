package org.bankfire.daemon.store.sqlite;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.sql.SQLException;
import org.bankfire.daemon.store.Rollup;

/**
 * Which 5 min buckets of which channels the readings of a row in the spool are of, in three to five bytes a channel: each
 * number is the difference to the one before, of seven bits a byte. So a row that is dropped can be brought from the file.
 */
final class SpoolBuckets {
    private static final long WIDTH_US = Rollup.Width.FIVE_MINUTES.micros();

    private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    private int channelId;
    private long bucket;
    private long readings;
    // Of the run before.
    private int writtenChannelId;
    private long writtenBucket;

    /** Takes what was written. */
    interface Taker {
        void take(int channelId, long startUs, long readings) throws SQLException;
    }

    void add(int ofChannelId, long timeUs, long more) {
        long ofBucket = Math.floorDiv(timeUs, WIDTH_US);
        if (readings > 0 && (ofChannelId != channelId || ofBucket != bucket)) {
            endRun();
        }
        channelId = ofChannelId;
        bucket = ofBucket;
        readings += more;
    }

    byte[] bytes() {
        if (readings > 0) {
            endRun();
        }
        return bytes.toByteArray();
    }

    private void endRun() {
        putSigned(channelId - (long) writtenChannelId);
        putSigned(bucket - writtenBucket);
        put(readings);
        writtenChannelId = channelId;
        writtenBucket = bucket;
        readings = 0;
    }

    static void read(byte[] written, Taker taker) throws SQLException {
        ByteBuffer in = ByteBuffer.wrap(written);
        long channelId = 0;
        long bucket = 0;
        while (in.hasRemaining()) {
            channelId += takeSigned(in);
            bucket += takeSigned(in);
            taker.take((int) channelId, bucket * WIDTH_US, take(in));
        }
    }

    /** Small numbers of either sign become small ones without. */
    private void putSigned(long number) {
        put((number << 1) ^ (number >> 63));
    }

    private static long takeSigned(ByteBuffer in) {
        long number = take(in);
        return (number >>> 1) ^ -(number & 1);
    }

    private void put(long number) {
        long rest = number;
        while ((rest & ~0x7FL) != 0) {
            bytes.write((int) (rest & 0x7F) | 0x80);
            rest >>>= 7;
        }
        bytes.write((int) rest);
    }

    private static long take(ByteBuffer in) {
        long number = 0;
        for (int shift = 0; ; shift += 7) {
            byte next = in.get();
            number |= (long) (next & 0x7F) << shift;
            if (next >= 0) {
                return number;
            }
        }
    }
}
