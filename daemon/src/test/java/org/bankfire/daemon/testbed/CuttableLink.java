package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.ArrayList;
import java.util.List;

/** A TCP relay on the loopback address whose connections can be cut without a word to either side. */
public final class CuttableLink implements AutoCloseable {
    private static final int CONNECTIONS = 16; // more than any test makes

    private final ServerSocket server;
    private final int target;
    private final List<Socket> sockets = new ArrayList<>();
    private boolean severed;

    /** A relay to {@code target}, a port of the loopback address. */
    public CuttableLink(int target) throws IOException {
        this.target = target;
        this.server = new ServerSocket(0, CONNECTIONS, InetAddress.getLoopbackAddress());
        background("link accept", this::accept);
    }

    public int port() {
        return server.getLocalPort();
    }

    /** Cuts what is connected and refuses what comes, until {@link #mend}. */
    public synchronized void cut() throws IOException {
        severed = true;
        closeAll();
    }

    public synchronized void mend() {
        severed = false;
    }

    @Override
    public synchronized void close() throws IOException {
        server.close();
        closeAll();
    }

    private void accept() throws IOException {
        while (!server.isClosed()) {
            relay(server.accept());
        }
    }

    private synchronized void relay(Socket near) throws IOException {
        if (severed) {
            near.close();
            return;
        }
        Socket far;
        try {
            far = new Socket(InetAddress.getLoopbackAddress(), target);
        } catch (IOException e) {
            near.close();
            return;
        }
        sockets.add(near);
        sockets.add(far);
        background("link in", () -> copy(near, far));
        background("link out", () -> copy(far, near));
    }

    private static void copy(Socket from, Socket to) throws IOException {
        try (from;
                to) {
            InputStream in = from.getInputStream();
            OutputStream out = to.getOutputStream();
            in.transferTo(out);
        }
    }

    private void closeAll() throws IOException {
        for (Socket socket : sockets) {
            socket.close();
        }
        sockets.clear();
    }

    private interface Work {
        void run() throws IOException;
    }

    private static void background(String name, Work work) {
        Thread thread = new Thread(
                () -> {
                    try {
                        work.run();
                    } catch (IOException e) {
                        // a socket that was closed: the end of this work
                        return;
                    }
                },
                name);
        thread.setDaemon(true);
        thread.start();
    }
}
