package org.bankfire.analysis.correction;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/** Builds frames and looks into what came of them. */
final class Frames {
    static final String FORGE = "shed";
    static final WallTime START = WallTime.ofEpochSeconds(1_772_359_200);

    private static final Map<Long, Double> NIST_MILLIVOLT = new HashMap<>();

    static {
        for (Map<String, String> row : Fixtures.rows("thermocouple/type_k_1C.csv")) {
            NIST_MILLIVOLT.put((long) Fixtures.number(row, "T_C"), Fixtures.number(row, "E_mV"));
        }
    }

    private Frames() {}

    /** Voltage of type K at a whole degree, mV, as printed by NIST. */
    static double printedMillivolt(long celsius) {
        return requireNonNull(NIST_MILLIVOLT.get(celsius));
    }

    static Reading at(double seconds, String name, double value, Unit unit) {
        WallTime time = START.plusSeconds(seconds);
        return Reading.good(new Channel(FORGE, name), value, unit, time, time.plusSeconds(0.1));
    }

    static Reading faultAt(double seconds, String name, Unit unit, Quality quality) {
        WallTime time = START.plusSeconds(seconds);
        return Reading.fault(new Channel(FORGE, name), unit, quality, time, time.plusSeconds(0.1));
    }

    static CorrectionChain chain(ChannelCalibration... calibrations) {
        return new CorrectionChain(FORGE, List.of(calibrations));
    }

    /** The only reading of that name, or the test fails. */
    static Reading only(String name, List<Reading> readings) {
        List<Reading> found = new ArrayList<>();
        for (Reading reading : readings) {
            if (reading.channel().name().equals(name)) {
                found.add(reading);
            }
        }
        assertThat(found).as("readings of %s among %s", name, readings).hasSize(1);
        return found.get(0);
    }

    static List<String> names(List<Reading> readings) {
        return readings.stream().map(each -> each.channel().name()).toList();
    }
}
