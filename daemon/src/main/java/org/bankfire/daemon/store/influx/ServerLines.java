package org.bankfire.daemon.store.influx;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/**
 * Lines of InfluxDB's line protocol as one block of bytes, each with its length before it: a text may hold line breaks, so
 * the block could not be cut at those.
 */
public final class ServerLines {
    private ServerLines() {}

    /** One block of {@code lines}. */
    public static byte[] block(List<String> lines) {
        ByteArrayOutputStream block = new ByteArrayOutputStream();
        for (String line : lines) {
            byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
            block.writeBytes(
                    ByteBuffer.allocate(Integer.BYTES).putInt(bytes.length).array());
            block.writeBytes(bytes);
        }
        return block.toByteArray();
    }

    /**
     * The lines of a block.
     *
     * @throws IllegalArgumentException when it is not one
     */
    public static List<String> lines(byte[] block) {
        List<String> lines = new ArrayList<>();
        ByteBuffer rest = ByteBuffer.wrap(block);
        while (rest.hasRemaining()) {
            int length = rest.remaining() < Integer.BYTES ? -1 : rest.getInt();
            if (length < 0 || length > rest.remaining()) {
                throw new IllegalArgumentException(
                        "a block of lines of " + block.length + " bytes is damaged after " + lines.size() + " lines");
            }
            lines.add(new String(block, rest.position(), length, StandardCharsets.UTF_8));
            rest.position(rest.position() + length);
        }
        return lines;
    }
}
