package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;

/**
 * A TCP relay on the loopback address that carries a bounded number of bytes a second towards its target, and none at all
 * while it is held.
 */
public final class SlowLink implements AutoCloseable {
    private static final int CONNECTIONS = 16; // more than any test makes
    private static final int SLICES_A_SECOND = 20;

    private final ServerSocket server;
    private final int target;
    private final int bytesASecond;
    private final List<Socket> sockets = new CopyOnWriteArrayList<>();
    private boolean held;

    /** A relay to {@code target}, a port of the loopback address. */
    public SlowLink(int target, int bytesASecond) throws IOException {
        this.target = target;
        this.bytesASecond = bytesASecond;
        this.server = new ServerSocket(0, CONNECTIONS, InetAddress.getLoopbackAddress());
        background("slow link accept", () -> {
            while (!server.isClosed()) {
                relay(server.accept());
            }
        });
    }

    public int port() {
        return server.getLocalPort();
    }

    /** From now on, but for a slice that is under way, nothing goes towards the target until {@link #letGo}. */
    public synchronized void hold() {
        held = true;
    }

    public synchronized void letGo() {
        held = false;
        notifyAll();
    }

    private synchronized void awaitLetGo() throws InterruptedException {
        while (held) {
            wait();
        }
    }

    @Override
    public void close() throws IOException {
        letGo();
        server.close();
        for (Socket socket : sockets) {
            socket.close();
        }
    }

    private void relay(Socket near) throws IOException {
        Socket far = new Socket(InetAddress.getLoopbackAddress(), target);
        sockets.add(near);
        sockets.add(far);
        background("slow link in", () -> copy(near, far, bytesASecond / SLICES_A_SECOND));
        background("slow link out", () -> copy(far, near, 0));
    }

    private void copy(Socket from, Socket to, int slice) throws IOException {
        try (from;
                to) {
            InputStream in = from.getInputStream();
            OutputStream out = to.getOutputStream();
            if (slice == 0) {
                in.transferTo(out);
                return;
            }
            byte[] buffer = new byte[slice];
            int read = in.read(buffer);
            while (read >= 0) {
                awaitLetGo();
                out.write(buffer, 0, read);
                TimeUnit.MICROSECONDS.sleep(1_000_000L / SLICES_A_SECOND * read / slice);
                read = in.read(buffer);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
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
