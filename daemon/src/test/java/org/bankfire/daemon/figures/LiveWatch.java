package org.bankfire.daemon.figures;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** A page's end of the live stream of one forge, without the page: what came, and when. */
final class LiveWatch implements AutoCloseable {
    private static final String DATA = "data: ";
    private static final String CHAMBER = "\"chamber\":{";
    private static final String TIME = "\"t\":";
    private static final String SEQUENCE = "\"channel\":\"seq\",\"value\":";

    private final Socket socket;
    private final Thread reader;
    private final List<Seen> seen = new ArrayList<>();

    /**
     * One snapshot that came.
     *
     * @param nanos {@link System#nanoTime} when its last byte had come
     * @param chamberS source time of the chamber reading in it, s since 1970; NaN when there is none
     * @param sequence latest running number in it; −1 when there is none
     */
    record Seen(long nanos, double chamberS, long sequence) {}

    /** Opens the stream of {@code forge}; {@code page} is the dashboard's address. */
    LiveWatch(String page, String forge) throws IOException {
        URI address = URI.create(page);
        socket = new Socket(address.getHost(), address.getPort());
        socket.setTcpNoDelay(true);
        String request = "GET /api/v1/live?forge=" + forge + " HTTP/1.1\r\nHost: " + address.getHost() + ":"
                + address.getPort() + "\r\nAccept: text/event-stream\r\n\r\n";
        socket.getOutputStream().write(request.getBytes(StandardCharsets.US_ASCII));
        BufferedReader in =
                new BufferedReader(new InputStreamReader(socket.getInputStream(), StandardCharsets.UTF_8), 65_536);
        String status = in.readLine();
        if (status == null || !status.contains(" 200 ")) {
            socket.close();
            throw new IOException("the live stream of " + forge + " was refused: " + status);
        }
        reader = new Thread(() -> read(in), "watch " + forge);
        reader.setDaemon(true);
        reader.start();
    }

    /** What came so far. */
    List<Seen> seen() {
        synchronized (seen) {
            return List.copyOf(seen);
        }
    }

    // Sizes of chunks stand on lines of their own and look like neither of those that are wanted.
    private void read(BufferedReader in) {
        try {
            String line = in.readLine();
            while (line != null) {
                if (line.startsWith(DATA) && line.contains(CHAMBER)) {
                    note(line);
                }
                line = in.readLine();
            }
        } catch (IOException closed) {
            // As close() does it; a stream that breaks off too early shows in the number of snapshots.
        }
    }

    private void note(String data) {
        long nanos = System.nanoTime();
        int chamber = data.indexOf(CHAMBER);
        int time = data.indexOf(TIME, chamber) + TIME.length();
        double chamberS = Double.parseDouble(data.substring(time, data.indexOf('}', time)));
        synchronized (seen) {
            seen.add(new Seen(nanos, chamberS, sequence(data)));
        }
    }

    private static long sequence(String data) {
        int at = data.indexOf(SEQUENCE);
        if (at < 0) {
            return -1;
        }
        int end = at + SEQUENCE.length();
        while (end < data.length() && Character.isDigit(data.charAt(end))) {
            end++;
        }
        return Long.parseLong(data.substring(at + SEQUENCE.length(), end));
    }

    @Override
    public void close() throws IOException {
        socket.close();
    }
}
