package org.bankfire.daemon.command;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.prediction.GasProgramme;

/** A gas programme from a CSV file with the header {@code tS,gasPa}. */
final class ProgrammeFile {
    private static final String HEADER = "tS,gasPa";
    private static final String ROW = "two numbers, seconds from gas on and gauge pressure in Pa, as in 600,80000";
    /** A week by the second; more is no programme but a recording. */
    private static final int MOST_ROWS = 604_800;
    /** As many rows of the longest numbers. */
    private static final long MOST_BYTES = 50L * MOST_ROWS;

    private ProgrammeFile() {}

    /**
     * Reads a programme.
     *
     * @throws BadProgrammeException naming file, line, value and what is allowed
     */
    static GasProgramme read(Path file) throws IOException, BadProgrammeException {
        List<String> lines = lines(file);
        if (lines.isEmpty() || !withoutMark(lines.get(0)).equals(HEADER)) {
            String first = lines.isEmpty() ? "" : lines.get(0);
            throw new BadProgrammeException(file + ":1: \"" + first + "\": the first line must be " + HEADER);
        }
        List<double[]> rows = new ArrayList<>();
        double lastS = 0;
        for (int i = 1; i < lines.size(); i++) {
            if (lines.get(i).isBlank()) {
                continue;
            }
            double[] row = row(file, i + 1, lines.get(i), lastS);
            lastS = row[0];
            rows.add(row);
        }
        if (rows.isEmpty() || rows.size() > MOST_ROWS) {
            throw new BadProgrammeException(
                    file + ": " + rows.size() + " rows: allowed are 1 to " + MOST_ROWS + " under the header");
        }
        return GasProgramme.of(
                rows.stream().mapToDouble(row -> row[0]).toArray(),
                rows.stream().mapToDouble(row -> row[1]).toArray());
    }

    private static List<String> lines(Path file) throws IOException, BadProgrammeException {
        try {
            if (Files.size(file) > MOST_BYTES) {
                throw new BadProgrammeException(file + ": larger than a programme can be");
            }
            return Files.readAllLines(file, StandardCharsets.UTF_8);
        } catch (NoSuchFileException none) {
            throw new BadProgrammeException(file + ": there is no such file");
        } catch (CharacterCodingException bad) {
            throw new BadProgrammeException(file + ": not UTF-8 text");
        }
    }

    /** A byte order mark, which spreadsheets write, and blanks are no matter. */
    private static String withoutMark(String line) {
        return (line.startsWith("\uFEFF") ? line.substring(1) : line)
                .replace(" ", "")
                .strip();
    }

    private static double[] row(Path file, int line, String text, double lastS) throws BadProgrammeException {
        String[] cells = text.split(",", -1);
        if (cells.length != 2) {
            throw new BadProgrammeException(file + ":" + line + ": \"" + text + "\": allowed are " + ROW);
        }
        double timeS = number(file, line, "tS", cells[0]);
        double gaugePa = number(file, line, "gasPa", cells[1]);
        if (!(timeS >= lastS && timeS <= GasProgramme.LONGEST_S)) {
            throw new BadProgrammeException(file + ":" + line + ": tS = \"" + cells[0].strip() + "\": allowed are "
                    + lastS + ", the time before, to " + GasProgramme.LONGEST_S);
        }
        if (!GasProgramme.GAUGE_PA.contains(gaugePa)) {
            throw new BadProgrammeException(file + ":" + line + ": gasPa = \"" + cells[1].strip()
                    + "\": allowed are " + GasProgramme.GAUGE_PA.low() + " to " + GasProgramme.GAUGE_PA.high()
                    + " Pa above ambient");
        }
        return new double[] {timeS, gaugePa};
    }

    private static double number(Path file, int line, String column, String cell) throws BadProgrammeException {
        try {
            return Double.parseDouble(cell.strip());
        } catch (NumberFormatException bad) {
            throw new BadProgrammeException(
                    file + ":" + line + ": " + column + " = \"" + cell.strip() + "\": allowed are " + ROW);
        }
    }

    /** A programme that cannot be used; the message says where and why. */
    static final class BadProgrammeException extends Exception {
        private static final long serialVersionUID = 1L;

        BadProgrammeException(String message) {
            super(message);
        }
    }
}
