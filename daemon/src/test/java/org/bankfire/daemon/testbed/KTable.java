package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * Type K by straight lines between the rows of NIST's table at every degree: written apart from the analysis, good to the
 * table's rounding of 0.0005 mV.
 */
public final class KTable {
    private final List<Double> millivolts = new ArrayList<>();
    private final double firstC;

    /** Reads {@code thermocouple/type_k_1C.csv} of the fixtures. */
    public KTable(Path fixtures) {
        Path file = fixtures.resolve("thermocouple/type_k_1C.csv");
        double first = Double.NaN;
        try {
            for (String line : Files.readAllLines(file, StandardCharsets.UTF_8)) {
                if (line.startsWith("#") || line.startsWith("T_C")) {
                    continue;
                }
                int comma = line.indexOf(',');
                double celsius = Double.parseDouble(line.substring(0, comma));
                if (millivolts.isEmpty()) {
                    first = celsius;
                } else if (celsius != first + millivolts.size()) {
                    throw new IllegalArgumentException(file + ": " + line + " is not the next degree");
                }
                millivolts.add(Double.parseDouble(line.substring(comma + 1)));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        firstC = first;
    }

    /** EMF against a reference junction at 0 °C, mV; {@code celsius} −270 to below 1372. */
    public double millivolts(double celsius) {
        int row = (int) Math.floor(celsius - firstC);
        double between = celsius - firstC - row;
        return millivolts.get(row) * (1 - between) + millivolts.get(row + 1) * between;
    }
}
