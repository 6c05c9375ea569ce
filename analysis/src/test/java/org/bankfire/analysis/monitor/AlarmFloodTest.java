package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.analysis.monitor.Shed.at;

import java.util.Random;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Unit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Whatever comes and goes, nobody is called more than ten times in ten minutes: the manageable limit of EEMUA 191 and
 * ISA-18.2.
 */
class AlarmFloodTest {
    private static final int MANAGEABLE = 10;
    private static final double HOUR_S = 3_600;

    /** What is the matter, as the parts of a second that it lasts. */
    @ParameterizedTest
    @CsvSource({
        // Loose contact of chamber, pressure, line; noise of chamber, shell and pressure about their limits.
        "looseChamber, 0.4, 0, 0, 0",
        "loosePressure, 0, 0.4, 0, 0",
        "looseLine, 0, 0, 0.4, 0",
        "noise, 0, 0, 0, 1",
        "looseContacts, 0.4, 0.4, 0, 0",
        "looseEverything, 0.3, 0.3, 0.3, 0",
        "allAtOnce, 0.3, 0.3, 0.3, 1",
        "noisyAndLoose, 0.2, 0, 0, 1"
    })
    void nobodyIsCalledMoreOftenThanHeCanManage(
            String what, double chamber, double pressure, double line, double noise) {
        int most = 0;
        for (int seed = 0; seed < 6; seed++) {
            Random random = new Random(seed);
            // The pace of the trouble: from a rattle to something that comes and goes every few minutes.
            double meanS = 2 * Math.pow(3, seed);
            Shed shed = trouble(random, meanS, chamber, pressure, line, noise);
            assertThat(shed.alarms).as("%s, seed %d", what, seed).isNotEmpty();
            most = Math.max(most, shed.annunciationsInTenMinutes());
        }
        assertThat(most).as(what).isLessThanOrEqualTo(MANAGEABLE);
    }

    private static Shed trouble(
            Random random, double meanS, double chamber, double pressure, double line, double noise) {
        Shed shed = new Shed();
        boolean[] bad = new boolean[3];
        double[] share = {chamber, pressure, line};
        double gasPa = random.nextInt(3) == 0 ? 0 : 100e3;
        for (double second = 0; second < HOUR_S; second += 0.25) {
            for (int i = 0; i < bad.length; i++) {
                // A change of state every meanS on the average, bad for its share of the time.
                if (random.nextDouble() < 0.25 / meanS) {
                    bad[i] = random.nextDouble() < share[i];
                }
            }
            if (random.nextInt(1_200) == 0) {
                acknowledgeAll(shed, second);
            }
            if (bad[2]) {
                continue;
            }
            // A chamber cannot swing by 20 K faster than this; a flame-out that flutters is the flame test's matter.
            double swing = noise * 20 * Math.sin(second / Math.max(meanS, 16));
            shed.accept(
                    bad[0]
                            ? Shed.bad(ChannelNames.CHAMBER, second, Quality.OPEN, Unit.CELSIUS)
                            : Shed.chamber(second, noise * 1_245 + swing + noise * 6 * random.nextGaussian()));
            shed.accept(
                    bad[1]
                            ? Shed.bad(ChannelNames.GAS, second, Quality.RANGE, Unit.PASCAL)
                            : Shed.gas(second, noise > 0 ? 4e5 + 500 * swing + 4e3 * random.nextGaussian() : gasPa));
            shed.accept(Shed.reading(
                    ChannelNames.SHELL, second, noise * (248 + swing / 2 + 4 * random.nextGaussian()), Unit.CELSIUS));
        }
        return shed;
    }

    private static void acknowledgeAll(Shed shed, double second) {
        for (AlarmStatus alarm : shed.monitor.snapshot().alarms()) {
            if (alarm.state().callsForAttention()) {
                shed.monitor.acknowledge(alarm.alarm(), at(second), "Ada");
            }
        }
    }

    @Test
    void aChatteringAlarmStandsInsteadOfCallingAgain() {
        Shed shed = new Shed();
        for (double second = 0; second < 900; second += 0.25) {
            boolean high = second % 60 < 30;
            shed.accept(Shed.chamber(second, high ? 1_245 : 1_200), Shed.gas(second, 0));
        }
        assertThat(shed.annunciationsInTenMinutes()).isBetween(3, 4);
        // It was high until 870 s and stands for five minutes more.
        double restAt = 900;
        shed.steady(restAt, restAt + 260, 1_200, 0);
        assertThat(shed.monitor.snapshot().alarms())
                .extracting(AlarmStatus::state)
                .containsExactly(AlarmState.UNACKNOWLEDGED);
        shed.steady(restAt + 260, restAt + 300, 1_200, 0);
        assertThat(shed.monitor.snapshot().alarms())
                .extracting(AlarmStatus::state)
                .containsExactly(AlarmState.RETURNED_UNACKNOWLEDGED);
    }
}
