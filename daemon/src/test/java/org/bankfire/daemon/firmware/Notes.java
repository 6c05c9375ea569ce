package org.bankfire.daemon.firmware;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/** The folder {@code firmware-notes} and what its tests need to read it. */
final class Notes {
    private Notes() {}

    static Path folder() {
        Path fixtures = Path.of(System.getProperty("bankfire.fixtures"));
        return fixtures.resolveSibling("firmware-notes");
    }

    static List<Path> pages() throws IOException {
        try (Stream<Path> files = Files.list(folder())) {
            return files.filter(file -> file.toString().endsWith(".md"))
                    .sorted()
                    .toList();
        }
    }

    /** The lines in the blocks marked {@code line} of a page. */
    static List<String> exampleLines(Path page) throws IOException {
        List<String> lines = new ArrayList<>();
        boolean inside = false;
        for (String line : Files.readAllLines(page, StandardCharsets.UTF_8)) {
            if (line.startsWith("```")) {
                inside = line.equals("```line");
            } else if (inside) {
                lines.add(line);
            }
        }
        return lines;
    }

    /**
     * CRC-16/CCITT-FALSE by dividing the message as one long number, which no other code of Bankfire does.
     *
     * @return four hexadecimal digits
     */
    static String checksum(String text) {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        boolean[] bits = new boolean[bytes.length * 8 + 16];
        for (int i = 0; i < bytes.length * 8; i++) {
            bits[i] = (bytes[i / 8] >> (7 - i % 8) & 1) == 1;
        }
        // The initial value FFFF is the same as turning over the first sixteen bits.
        for (int i = 0; i < 16; i++) {
            bits[i] = !bits[i];
        }
        int[] termsOfPolynomial = {0, 4, 11, 16};
        for (int i = 0; i < bytes.length * 8; i++) {
            if (bits[i]) {
                for (int term : termsOfPolynomial) {
                    bits[i + term] = !bits[i + term];
                }
            }
        }
        int remainder = 0;
        for (int i = bytes.length * 8; i < bits.length; i++) {
            remainder = remainder << 1 | (bits[i] ? 1 : 0);
        }
        return String.format(Locale.ROOT, "%04X", remainder);
    }
}
