package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/** Lines appended to a file or to the end of a pty pair; a path that has gone is opened again once it is back. */
final class FileSink implements LineSink {
    private final Path path;
    private @Nullable OutputStream out;

    /** Makes an empty file of a path that does not exist yet; later on a path that has gone stays gone until it is back. */
    FileSink(Path path) throws IOException {
        this.path = path;
        if (!Files.exists(path)) {
            Files.createFile(path);
        }
    }

    @Override
    public void send(byte[] line) throws IOException {
        OutputStream stream = out;
        if (stream == null) {
            stream = Files.newOutputStream(path, StandardOpenOption.WRITE, StandardOpenOption.APPEND);
            out = stream;
        }
        byte[] withEnd = Arrays.copyOf(line, line.length + 1);
        withEnd[line.length] = '\n';
        try {
            // One write, so that a reader sees no half line unless the line itself breaks.
            stream.write(withEnd);
        } catch (IOException e) {
            close();
            throw e;
        }
    }

    @Override
    public void close() {
        OutputStream stream = out;
        out = null;
        if (stream != null) {
            try {
                stream.close();
            } catch (IOException e) {
                System.err.println("closing " + path + ": " + e);
            }
        }
    }
}
