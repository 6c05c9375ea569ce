package org.bankfire.analysis;

import static java.util.Objects.requireNonNull;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Published figures in the fixtures folder: delimited text, its source in lines that begin with a hash. */
public final class Fixtures {
    private Fixtures() {}

    /** The rows of {@code path} below the fixtures folder, each by column name; at least one, or the test fails. */
    public static List<Map<String, String>> rows(String path) {
        Path file = Path.of(
                requireNonNull(System.getProperty("bankfire.fixtures"), "the build sets bankfire.fixtures"), path);
        try {
            List<String[]> lines = new ArrayList<>();
            for (String line : Files.readAllLines(file)) {
                if (!line.isBlank() && !line.startsWith("#")) {
                    lines.add(line.split(",", -1));
                }
            }
            String[] header = lines.get(0);
            List<Map<String, String>> rows = new ArrayList<>();
            for (String[] cells : lines.subList(1, lines.size())) {
                if (cells.length != header.length) {
                    throw new IllegalStateException(file + ": " + cells.length + " cells below " + header.length
                            + " columns in \"" + String.join(",", cells) + "\"");
                }
                Map<String, String> row = new HashMap<>();
                for (int i = 0; i < header.length; i++) {
                    row.put(header[i], cells[i]);
                }
                rows.add(row);
            }
            if (rows.isEmpty()) {
                throw new IllegalStateException(file + " holds no rows");
            }
            return rows;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The number in that column. */
    public static double number(Map<String, String> row, String column) {
        return Double.parseDouble(text(row, column));
    }

    /** The text in that column. */
    public static String text(Map<String, String> row, String column) {
        return requireNonNull(row.get(column), () -> "no column " + column + " in " + row.keySet());
    }
}
