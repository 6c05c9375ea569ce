package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CopyOnWriteArrayList;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocket;

/**
 * Stands before a mail server that speaks in the open and offers STARTTLS (RFC 3207): before the handshake it takes
 * nothing but {@code EHLO} and {@code STARTTLS}, after it hands everything on.
 */
public final class StartTlsGate implements AutoCloseable {
    private final ServerSocket server;
    private final SSLContext context;
    private final int target;
    private final List<String> openCommands = new CopyOnWriteArrayList<>();

    /** Begins to listen on a free port, before a server on {@code target}. */
    public StartTlsGate(SSLContext context, int target) throws IOException {
        this.server = new ServerSocket(0, 5, InetAddress.getLoopbackAddress());
        this.context = context;
        this.target = target;
        background(() -> {
            while (!server.isClosed()) {
                Socket near = server.accept();
                background(() -> serve(near));
            }
        });
    }

    public int port() {
        return server.getLocalPort();
    }

    /** What was said in the open. */
    public List<String> openCommands() {
        return List.copyOf(openCommands);
    }

    private void serve(Socket near) throws IOException {
        try (near) {
            InputStream in = near.getInputStream();
            OutputStream out = near.getOutputStream();
            say(out, "220 gate");
            String command = line(in);
            while (!command.toUpperCase(Locale.ROOT).startsWith("STARTTLS")) {
                openCommands.add(command);
                say(out, command.toUpperCase(Locale.ROOT).startsWith("EHLO") ? "250-gate\r\n250 STARTTLS" : "530 no");
                command = line(in);
            }
            say(out, "220 go on");
            SSLSocket secret = (SSLSocket) context.getSocketFactory().createSocket(near, "gate", near.getPort(), true);
            secret.setUseClientMode(false);
            secret.startHandshake();
            relay(secret);
        }
    }

    private void relay(SSLSocket near) throws IOException {
        try (Socket far = new Socket(InetAddress.getLoopbackAddress(), target)) {
            InputStream answers = far.getInputStream();
            String greeting = line(answers);
            if (!greeting.startsWith("220")) {
                throw new IOException("the mail server said " + greeting);
            }
            background(() -> near.getInputStream().transferTo(far.getOutputStream()));
            answers.transferTo(near.getOutputStream());
        }
    }

    /** Byte by byte: what follows the line belongs to somebody else. */
    private static String line(InputStream in) throws IOException {
        StringBuilder line = new StringBuilder();
        int next = in.read();
        while (next >= 0 && next != '\n') {
            line.append((char) next);
            next = in.read();
        }
        if (next < 0) {
            throw new IOException("the line ended");
        }
        return line.toString().strip();
    }

    private static void say(OutputStream out, String text) throws IOException {
        out.write((text + "\r\n").getBytes(StandardCharsets.US_ASCII));
        out.flush();
    }

    private interface Work {
        void run() throws IOException;
    }

    private static void background(Work work) {
        Thread thread = new Thread(
                () -> {
                    try {
                        work.run();
                    } catch (IOException closed) {
                        return; // a socket that was closed: the end of this work
                    }
                },
                "starttls gate");
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public void close() throws IOException {
        server.close();
    }
}
