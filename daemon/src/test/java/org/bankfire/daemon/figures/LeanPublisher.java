package org.bankfire.daemon.figures;

import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicLong;

/**
 * A sender of MQTT 3.1.1 that does nothing but publish at QoS 1, many ahead of their acknowledgements: it stands for many
 * small boards and must not be what is measured. A library's client costs more for each message than the broker.
 */
final class LeanPublisher implements AutoCloseable {
    /** Packet identifiers have 16 bits and 0 is none of them; one is free again when it was acknowledged. */
    private static final int MOST_UNDER_WAY = 60_000;

    private static final int PUBACK = 4;

    private final Socket socket;
    private final OutputStream out;
    private final byte[] buffer = new byte[65_536];
    private final Semaphore free = new Semaphore(MOST_UNDER_WAY);
    private final AtomicLong acknowledged = new AtomicLong();
    private final Thread reader;
    private int length;
    private int nextId = 1;
    private volatile String trouble = "";

    LeanPublisher(int port, String clientId) throws IOException {
        socket = new Socket(InetAddress.getLoopbackAddress(), port);
        socket.setTcpNoDelay(true);
        out = socket.getOutputStream();
        byte[] id = clientId.getBytes(StandardCharsets.US_ASCII);
        byte[] connect = new byte[14 + id.length];
        byte[] fixed = {0x10, (byte) (12 + id.length), 0, 4, 'M', 'Q', 'T', 'T', 4, 2, 0, 60, 0, (byte) id.length};
        System.arraycopy(fixed, 0, connect, 0, fixed.length);
        System.arraycopy(id, 0, connect, fixed.length, id.length);
        out.write(connect);
        DataInputStream in = new DataInputStream(new BufferedInputStream(socket.getInputStream()));
        byte[] answer = new byte[4];
        in.readFully(answer);
        if (answer[0] != 0x20 || answer[3] != 0) {
            throw new IOException("the broker refused " + clientId + " with code " + answer[3]);
        }
        reader = new Thread(() -> read(in), clientId);
        reader.setDaemon(true);
        reader.start();
    }

    /** Adds a message; it leaves with {@link #flush}, or sooner when many wait. */
    void add(byte[] topic, PackBytes pack, long micros, byte[] tail) throws IOException, InterruptedException {
        free.acquire();
        int payload = pack.length(tail);
        int remaining = 2 + topic.length + 2 + payload;
        if (length + remaining + 4 > buffer.length) {
            flush();
        }
        buffer[length++] = 0x32;
        for (int left = remaining; ; left >>= 7) {
            boolean more = left > 127;
            buffer[length++] = (byte) ((left & 127) | (more ? 128 : 0));
            if (!more) {
                break;
            }
        }
        buffer[length++] = (byte) (topic.length >> 8);
        buffer[length++] = (byte) topic.length;
        System.arraycopy(topic, 0, buffer, length, topic.length);
        length += topic.length;
        buffer[length++] = (byte) (nextId >> 8);
        buffer[length++] = (byte) nextId;
        nextId = nextId % 65_535 + 1;
        length = pack.write(buffer, length, micros, tail);
    }

    void flush() throws IOException {
        if (!trouble.isEmpty()) {
            throw new IOException(trouble);
        }
        out.write(buffer, 0, length);
        length = 0;
    }

    /** Messages that the broker has. */
    long acknowledged() {
        return acknowledged.get();
    }

    private void read(DataInputStream in) {
        try {
            byte[] packet = new byte[4];
            while (true) {
                in.readFully(packet);
                if (packet[0] >> 4 != PUBACK) {
                    trouble = "the broker sent a packet of kind " + (packet[0] >> 4);
                    return;
                }
                acknowledged.incrementAndGet();
                free.release();
            }
        } catch (IOException ended) {
            trouble = "the broker has gone: " + ended;
        }
    }

    @Override
    public void close() throws IOException {
        try {
            out.write(new byte[] {(byte) 0xE0, 0});
        } finally {
            socket.close();
        }
    }
}
