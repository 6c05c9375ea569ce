package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.util.List;
import java.util.stream.Stream;
import org.bankfire.analysis.correction.ChannelCalibration;
import org.bankfire.analysis.correction.PointsCalibration;
import org.bankfire.analysis.correction.PressureCalibration;
import org.bankfire.analysis.correction.ThermocoupleCalibration;
import org.bankfire.analysis.thermocouple.ToleranceClass;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Calibrations: their defaults and mistakes. The channel's header stands in line 35 of the file. */
class ChannelProblemsTest {
    @Test
    void aThermocoupleGetsTheseDefaults() throws IOException, ConfigException {
        assertThat(read("name = 'chamber'\nsensor = 'thermocouple'"))
                .containsExactly(new ThermocoupleCalibration(
                        "chamber",
                        ThermocoupleCalibration.Amplifier.LINEARISED,
                        Double.NaN,
                        Double.NaN,
                        ToleranceClass.ASTM_STANDARD,
                        Double.NaN,
                        Double.NaN,
                        Double.NaN));
        assertThat(read("name = 'chamber'\nsensor = 'thermocouple'\namplifier = 'straight-line'"))
                .extracting(channel -> ((ThermocoupleCalibration) channel).sensitivityVPerK())
                .containsExactly(41.276e-6);
        assertThat(read("name = 'a'\nsensor = 'thermocouple'\namplifier = 'analogue'\noutput-at-zero = '0 V'"))
                .extracting(channel -> ((ThermocoupleCalibration) channel).sensitivityVPerK())
                .containsExactly(5e-3);
    }

    @Test
    void aTransducerGetsTheseDefaults() throws IOException, ConfigException {
        assertThat(
                        read(
                                "name = 'gas'\nsensor = 'transducer'\noutput = 'ratio'\npoints = [['10 %', '0 psi'], [0.9, '15 psi']]"))
                .containsExactly(new PressureCalibration(
                        "gas",
                        PressureCalibration.Output.RATIO,
                        0.1,
                        0,
                        0.9,
                        // 15 × 6894.757293168361, NIST SP 811
                        103_421.35939752542,
                        Double.NaN,
                        Double.NaN,
                        Double.NaN,
                        0.01));
        assertThat(read("name = 'gas'\nsensor = 'transducer'\noutput = 'pressure'\nzero = '12 mbar'"))
                .extracting(channel -> ((PressureCalibration) channel).zero())
                .containsExactly(1200.0);
    }

    @Test
    void aSensorAndAPairOfPointsGoTogetherOnOneChannel() throws IOException, ConfigException {
        assertThat(read("name = 'chamber'\nsensor = 'thermocouple'\n[[forge.channel]]\nname = 'chamber'\n"
                        + "sensor = 'points'\npoints = [['1 degC', '0 degC'], ['99 degC', '100 degC']]"))
                .hasSize(2);
    }

    @Test
    void pointsAreKeptInTheUnitThatTheirChannelIsKeptIn() throws IOException, ConfigException {
        assertThat(
                        read(
                                "name = 'shell'\nsensor = 'points'\npoints = [['32 degF', '0 degC'], ['373.15 K', '99.6 degC']]"))
                .containsExactly(new PointsCalibration("shell", 0, 0, 100, 99.6, Double.NaN));
        assertThat(
                        read(
                                "name = 'gas'\nsensor = 'points'\npoints = [['1 mbar', '0 Pa'], ['1 bar', '1 bar']]\naccuracy='1 kPa'"))
                .containsExactly(new PointsCalibration("gas", 100, 0, 1e5, 1e5, 1000));
        assertThat(read("name = 'cylinder'\nsensor = 'points'\npoints = [['100 g', '0 kg'], ['11 kg', '11.2 kg']]"))
                .containsExactly(new PointsCalibration("cylinder", 0.1, 0, 11, 11.2, Double.NaN));
        assertThat(read("name = 'humidity'\nsensor = 'points'\npoints = [[0.1, 0], ['80 %', 0.9]]"))
                .containsExactly(new PointsCalibration("humidity", 0.1, 0, 0.8, 0.9, Double.NaN));
        assertThat(read("name = 'roof'\nsensor = 'points'\npoints = [['1 degC', '0 degC'], ['31 degC', '30 degC']]"))
                .containsExactly(new PointsCalibration("roof", 1, 0, 31, 30, Double.NaN));
    }

    @ParameterizedTest
    @MethodSource
    void aMistakeInACalibrationIsTold(String channel, String expected) {
        ConfigException exception = catchThrowableOfType(ConfigException.class, () -> read(channel));
        assertThat(exception).as("nothing was found wrong").isNotNull();
        assertThat(exception.problems()).extracting(ConfigProblem::text).containsExactly("shed.toml:" + expected);
    }

    static Stream<Arguments> aMistakeInACalibrationIsTold() {
        String gas = "name = 'gas'\nsensor = 'transducer'\noutput = 'ratiometric'\n";
        String pairs = "two pairs, as in [[\"0.5 V\", \"2 bar\"], […, …]]";
        return Stream.of(
                arguments(
                        "sensor = 'thermocouple'",
                        "35: forge.0.channel.0.name: missing: the channel's name, as in " + "\"chamber\" or \"gas\""),
                arguments(
                        "name = 'gas'",
                        "35: forge.0.channel.0.sensor: missing: one of thermocouple, transducer, points"),
                arguments(
                        "name = 'a b'\nsensor = 'thermocouple'",
                        "36: forge.0.channel.0.name = \"a b\": channel \"a b\": allowed are 1 to 128 letters, digits, '-', "
                                + "':', '.', '/' and '_', the first a letter or digit"),
                arguments(
                        "name = 'a'\nsensor = 'thermocouple'\nsensitivity = '5 mV/K'",
                        "38: forge.0.channel.0.sensitivity = \"5 mV/K\": unknown key; known here: amplifier, "
                                + "amplifier-accuracy, cold-junction-accuracy, name, sensor, sheath-diameter, wire-class, wire-diameter"),
                arguments(
                        "name = 'a'\nsensor = 'thermocouple'\namplifier = 'analogue'",
                        "35: forge.0.channel.0.output-at-zero: missing: a voltage from -10 V to 10 V, as in \"1.25 V\" "
                                + "(units: V, mV, uV)"),
                arguments(
                        "name = 'a'\nsensor = 'thermocouple'\nwire-class = 'IEC 60584-1 class 4'",
                        "38: forge.0.channel.0.wire-class = \"IEC 60584-1 class 4\": one of IEC 60584-1 class 1, IEC "
                                + "60584-1 class 2, IEC 60584-1 class 3, ASTM E230 special, ASTM E230 standard; did you "
                                + "mean \"IEC 60584-1 class 1\"?"),
                arguments(gas, "35: forge.0.channel.0.points: missing: " + pairs),
                arguments(
                        gas + "points = [['0.5 V', '0 bar']]",
                        "39: forge.0.channel.0.points = [[\"0.5 V\", \"0 bar\"]]: " + pairs),
                arguments(
                        gas + "points = [['0.5 V', '0 bar'],\n['4.5 V']]",
                        "40: forge.0.channel.0.points.1 = [\"4.5 V\"]: " + pairs),
                arguments(
                        gas + "points = [['0.5 V', '0 bar'], ['0.5 V', '2 bar']]",
                        "39: forge.0.channel.0.points = [[\"0.5 V\", \"0 bar\"], [\"0.5 V\", \"2 bar\"]]: the two points "
                                + "must differ: " + pairs),
                arguments(
                        gas + "points = [['4 mA', '0 bar'], ['4.5 V', '2 bar']]",
                        "39: forge.0.channel.0.points.0.0 = \"4 mA\": \"mA\" is not a unit of a voltage; allowed: a voltage "
                                + "from 0 V to 30 V, as in \"0.5 V\" (units: V, mV, uV)"),
                arguments(
                        gas + "points = [['0.5 V', '0 bar'], ['4.5 V', '2 bar']]\nshunt = '250 ohm'",
                        "40: forge.0.channel.0.shunt = \"250 ohm\": unknown key; known here: accuracy, name, output, points, "
                                + "sensor, supply, zero"),
                arguments(
                        "name = 'a'\nsensor = 'thermocouple'\n[[forge.channel]]\nname = 'a'\nsensor = 'thermocouple'",
                        "39: forge.0.channel.1.name = \"a\": a channel has one sensor and, apart from it, one pair of points"));
    }

    private static List<ChannelCalibration> read(String channel) throws IOException, ConfigException {
        String text = Examples.text("shed.toml") + "\n[[forge.channel]]\n" + channel + "\n";
        return ConfigReader.read(text, "shed.toml", Examples.FOLDER)
                .config()
                .forges()
                .get(0)
                .channels();
    }
}
