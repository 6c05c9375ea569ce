package org.bankfire.daemon.testbed;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** A unix datagram socket such as a service manager listens on, held open by a small program. */
public final class NotifySocket implements AutoCloseable {
    private static final String LISTENER = """
            import socket, sys
            name = sys.argv[1]
            line = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
            line.bind("\\0" + name[1:] if name.startswith("@") else name)
            print("listening", flush=True)
            while True:
                for word in line.recv(4096).decode().splitlines():
                    print(word, flush=True)
            """;

    private final Process process;
    private final List<String> heard = new CopyOnWriteArrayList<>();

    /** @param name a path, or an abstract name that begins with {@code @} */
    public NotifySocket(String name) throws IOException {
        process = new ProcessBuilder(Programs.find("python3", "python3").toString(), "-c", LISTENER, name)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        BufferedReader in = new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
        if (!"listening".equals(in.readLine())) {
            throw new IOException("nobody listens on " + name);
        }
        Thread reader = new Thread(() -> in.lines().forEach(heard::add), "notify socket");
        reader.setDaemon(true);
        reader.start();
    }

    /** Assignments heard so far. */
    public List<String> heard() {
        return List.copyOf(heard);
    }

    /** How often {@code assignment} was heard. */
    public long count(String assignment) {
        return heard.stream().filter(assignment::equals).count();
    }

    @Override
    public void close() {
        process.destroyForcibly().onExit().join();
    }
}
