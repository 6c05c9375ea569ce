package org.bankfire.daemon.notify;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** Reads secrets anew for each use, so that a mended file serves without a restart. Messages name the file only. */
final class Secrets {
    /** Longer than any password, token or address. */
    private static final int MOST_CHARACTERS = 8_192;

    private static final int MOST_LINES = 50;

    private Secrets() {}

    /** The first line of a file. */
    static String firstLine(Path file, String what) throws CarryException {
        List<String> lines = lines(file, what, 1);
        String line = lines.isEmpty() ? "" : lines.get(0).strip();
        if (line.isEmpty() || line.length() > MOST_CHARACTERS) {
            throw CarryException.passing(what + " file " + file + ": its first line must hold the " + what);
        }
        return line;
    }

    /** The lines of a file that are not blank. */
    static List<String> lines(Path file, String what) throws CarryException {
        return lines(file, what, MOST_LINES).stream()
                .filter(line -> !line.isBlank())
                .toList();
    }

    private static List<String> lines(Path file, String what, int most) throws CarryException {
        List<String> lines = new ArrayList<>();
        try (BufferedReader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
            String line = reader.readLine();
            while (line != null && lines.size() < most) {
                lines.add(line);
                line = reader.readLine();
            }
        } catch (IOException e) {
            throw CarryException.passing(
                    what + " file " + file + " cannot be read: " + e.getClass().getSimpleName());
        }
        return lines;
    }
}
