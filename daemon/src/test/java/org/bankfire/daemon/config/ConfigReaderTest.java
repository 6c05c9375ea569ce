package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.entry;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.analysis.correction.PointsCalibration;
import org.bankfire.analysis.correction.PressureCalibration;
import org.bankfire.analysis.correction.ThermocoupleCalibration;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Cylinder;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Hydrocarbon;
import org.bankfire.analysis.lining.FirstFiring;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.monitor.ConditionSettings;
import org.bankfire.analysis.monitor.MonitorSettings;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.thermocouple.ToleranceClass;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.acquire.replay.ReplaySettings;
import org.bankfire.daemon.acquire.serial.SerialSettings;
import org.bankfire.daemon.acquire.virtual.VirtualSettings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ConfigReaderTest {
    @Test
    void aSmallFileGetsTheseDefaults() throws IOException, ConfigException {
        CheckedConfig checked = ConfigReader.read(Examples.text("shed.toml"), "shed.toml", Examples.FOLDER);
        assertThat(checked.warnings()).isEmpty();
        BankfireConfig config = checked.config();
        assertThat(config.dashboard()).isEqualTo(new DashboardConfig("127.0.0.1", 8440));
        assertThat(config.store())
                .isEqualTo(new StoreConfig(Path.of("/srv/bankfire/bankfire.db"), Duration.ofDays(730), null));
        assertThat(config.sources())
                .containsExactly(new SourceConfig.Serial(new SerialSettings(
                        "/dev/ttyUSB0", 115_200, new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, "shed"))));
        Material brick = Materials.find("insulating-firebrick-23").orElseThrow();
        ForgeDescription shed = new ForgeDescription(
                "shed",
                "Shed forge",
                1423.15,
                293.15,
                0,
                new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.05, 1, 1e5),
                0.2,
                0.16,
                0.23,
                12,
                List.of(new Layer(brick, 0.076)),
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));
        MonitorSettings monitor = new MonitorSettings(1150, 1240, 1260, 250, 4e5, 1e3, 3, 13.5, 12, Double.NaN);
        assertThat(config.forges()).containsExactly(new ForgeConfig(shed, monitor, List.of(), "", ThroatConfig.OPEN));
    }

    @Test
    void theContractsOwnExampleIsRead() throws ConfigException {
        CheckedConfig checked = ConfigReader.read(CONTRACT, "bankfire.toml", Examples.FOLDER);
        assertThat(checked.warnings()).isEmpty();
        ForgeConfig shed = checked.config().forges().get(0);
        assertThat(shed.monitor().chamberLimitC()).isEqualTo(1260);
        assertThat(shed.description().lining().get(1).material())
                .isEqualTo(new Material(
                        "salvaged block",
                        550,
                        1050,
                        List.of(new ConductivityPoint(293.15, 0.14), new ConductivityPoint(1273.15, 0.24)),
                        1273.15,
                        "the configuration"));
    }

    @Test
    void theNumberOfLedgerThreadsIsReadAndOtherwiseThatOfTheProcessors() throws IOException, ConfigException {
        assertThat(reference().config().daemon()).isEqualTo(new DaemonConfig(2));
        assertThat(DaemonConfig.DEFAULT.ledgerThreadsOr(3)).isEqualTo(3);
        assertThat(new DaemonConfig(2).ledgerThreadsOr(3)).isEqualTo(2);
    }

    @Test
    void everySourceIsReadWithAllItsKeys() throws IOException, ConfigException {
        List<SourceConfig> sources = reference().config().sources();
        assertThat(sources)
                .containsExactly(
                        new SourceConfig.Serial(new SerialSettings(
                                "/dev/ttyUSB0", 115_200, new FrameFormat.SenMl(ChecksumPolicy.REQUIRED, "anvil-row"))),
                        new SourceConfig.Serial(new SerialSettings(
                                "/dev/ttyUSB1",
                                115_200,
                                new FrameFormat.Columns(
                                        ChecksumPolicy.OPTIONAL,
                                        "window-bench",
                                        ';',
                                        List.of(
                                                new FrameFormat.Column("time", Unit.NONE),
                                                new FrameFormat.Column("chamber", Unit.FAHRENHEIT),
                                                new FrameFormat.Column("gas", Unit.PSI),
                                                new FrameFormat.Column("", Unit.NONE))))),
                        new SourceConfig.Mqtt(new MqttSettings(
                                "ssl://broker.lower-tarn.example:8883",
                                "bankfire-class",
                                List.of(
                                        new MqttSettings.Topic(
                                                "class/forges/#", new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null)),
                                        new MqttSettings.Topic(
                                                "class/bench/plain",
                                                new FrameFormat.Columns(
                                                        ChecksumPolicy.OPTIONAL,
                                                        "window-bench",
                                                        ' ',
                                                        List.of(new FrameFormat.Column("shell", Unit.CELSIUS))))),
                                "class",
                                Path.of("/srv/bankfire/broker-password"),
                                Path.of("/srv/bankfire/broker-ca.pem"),
                                "class/bankfire",
                                new MqttSettings.Share("class", MqttSettings.By.TOPIC))),
                        new SourceConfig.Replay(new ReplaySettings(
                                List.of(
                                        Path.of("/srv/bankfire/burns/first-evening.ndjson"),
                                        Path.of("/srv/bankfire/burns/second-evening.csv.gz")),
                                10)),
                        new SourceConfig.Virtual(new VirtualSettings("window-bench", 1, 4, 7)));
    }

    @Test
    void everyCalibrationIsReadWithAllItsKeys() throws IOException, ConfigException {
        ForgeConfig anvilRow = reference().config().forges().get(0);
        assertThat(anvilRow.channels())
                .containsExactly(
                        new ThermocoupleCalibration(
                                "chamber",
                                ThermocoupleCalibration.Amplifier.STRAIGHT_LINE,
                                41.276e-6,
                                Double.NaN,
                                ToleranceClass.IEC_1,
                                3.2e-3,
                                0.7,
                                15e-6),
                        new ThermocoupleCalibration(
                                "shell",
                                ThermocoupleCalibration.Amplifier.ANALOGUE,
                                5e-3,
                                1.25,
                                ToleranceClass.ASTM_STANDARD,
                                Double.NaN,
                                3e-3,
                                Double.NaN,
                                Double.NaN),
                        new PressureCalibration(
                                "gas",
                                PressureCalibration.Output.RATIOMETRIC_VOLTS,
                                0.5,
                                0,
                                4.5,
                                2e5,
                                5,
                                Double.NaN,
                                0.503,
                                0.01),
                        new PressureCalibration(
                                "manifold",
                                PressureCalibration.Output.CURRENT_LOOP,
                                0.004,
                                0,
                                0.02,
                                4e5,
                                Double.NaN,
                                250,
                                Double.NaN,
                                0.01),
                        new PointsCalibration("stock", 0.4, 0, 99.1, 99.6, 0.5));
    }

    @Test
    void everyLimitIsReadAndAPriceBringsItsCurrency() throws IOException, ConfigException {
        ForgeConfig anvilRow = reference().config().forges().get(0);
        assertThat(anvilRow.monitor().steadyBandKPerS()).isCloseTo(1.5 / 60, within(1e-15));
        assertThat(anvilRow.monitor())
                .isEqualTo(new MonitorSettings(1120, 1200, 1240, 220, 3e5, 1.5e3, 5, 20, 10, 3.2)
                        .withRatedStock(0.06)
                        .withSteadyBand(
                                Dimension.HEATING_RATE.parse("1.5 K/min").si())
                        .with(new ConditionSettings(
                                new Cylinder(Fuel.PROPANE, 11, 10.5, 5), 2e4, FirstFiring.CASTABLE, 1260)));
        assertThat(anvilRow.currency()).isEqualTo("EUR");
        assertThat(anvilRow.description().ambientK()).isEqualTo(288.15);
        assertThat(anvilRow.description().altitudeM()).isEqualTo(310);
        assertThat(anvilRow.description().probeLagS()).isEqualTo(8);
    }

    @Test
    void aSteadyBandMayBeAsNarrowAndAsWideAsItIsSaid() throws IOException, ConfigException {
        for (String band : List.of("0.1 K/min", "30 K/min", "6.1 K/h")) {
            double kPerS = withOverrides("steady-band=" + band)
                    .forges()
                    .get(0)
                    .monitor()
                    .steadyBandKPerS();
            assertThat(kPerS).isEqualTo(Dimension.HEATING_RATE.parse(band).si());
        }
        ConfigException refused =
                catchThrowableOfType(ConfigException.class, () -> withOverrides("steady-band=0.05 K/min"));
        assertThat(refused.problems())
                .singleElement()
                .satisfies(problem -> assertThat(problem.allowed()).contains("from 0.1 K/min to 30 K/min"));
    }

    @Test
    void aFirstFiringOfOnesOwnIsReadStepByStep() throws IOException, ConfigException {
        FirstFiring firing =
                reference().config().forges().get(1).monitor().conditions().firstFiring();
        assertThat(firing.steps())
                .extracting(FirstFiring.Step::toC, FirstFiring.Step::holdS)
                .containsExactly(tuple(110.0, 14_400.0), tuple(900.0, 0.0));
        assertThat(firing.steps().get(0).riseKPerS()).isCloseTo(30 / 3600.0, within(1e-12));
        assertThat(firing.steps().get(1).riseKPerS()).isCloseTo(2 / 60.0, within(1e-12));
    }

    @Test
    void aForgeWithoutANameGoesByItsIdAndItsWorkingLimitIsTwentyKelvinBelowTheLinings()
            throws IOException, ConfigException {
        ForgeConfig bench = reference().config().forges().get(1);
        assertThat(bench.description().name()).isEqualTo("window-bench");
        assertThat(bench.monitor().chamberHighC()).isEqualTo(1030);
        assertThat(bench.description().burner().fuel().fractions())
                .containsOnly(
                        entry(Hydrocarbon.ETHANE, 0.01),
                        entry(Hydrocarbon.PROPANE, 0.92),
                        entry(Hydrocarbon.PROPYLENE, 0.04),
                        entry(Hydrocarbon.BUTANE, 0.01),
                        entry(Hydrocarbon.ISOBUTANE, 0.02));
    }

    @Test
    void aPriceByThePoundIsTurnedIntoOneByTheKilogram() throws IOException, ConfigException {
        BankfireConfig config = withOverrides("gas-price=1 USD/lb");
        // 1 / 0.45359237, exact by definition of the pound
        assertThat(config.forges().get(0).monitor().gasPricePerKg()).isEqualTo(2.2046226218487757);
        assertThat(config.forges().get(0).currency()).isEqualTo("USD");
    }

    @Test
    void aLibraryMaterialMayBeChangedInPlace() throws IOException, ConfigException {
        Material changed = withOverrides("lining.0.density=520 kg/m3")
                .forges()
                .get(0)
                .description()
                .lining()
                .get(0)
                .material();
        Material library = Materials.find("insulating-firebrick-23").orElseThrow();
        assertThat(changed.densityKgPerM3()).isEqualTo(520);
        assertThat(changed.conductivity()).isEqualTo(library.conductivity());
        assertThat(changed.serviceLimitK()).isEqualTo(library.serviceLimitK());
        assertThat(changed.source()).endsWith("; changed in the configuration");
    }

    @Test
    void pathsAreRelativeToTheFolderOfTheFile(@TempDir Path folder) throws IOException, ConfigException {
        Path file = folder.resolve("bankfire.toml");
        Files.writeString(file, "[store]\npath = \"data/readings.db\"\n" + Examples.text("shed.toml"));
        assertThat(ConfigReader.read(file).config().store().path())
                .isEqualTo(folder.toAbsolutePath().resolve("data/readings.db"));
    }

    @Test
    void aByteOrderMarkAndWindowsLineEndsAreTaken() throws IOException, ConfigException {
        String text = "\uFEFF" + Examples.text("shed.toml").replace("\n", "\r\n");
        assertThat(ConfigReader.read(text, "shed.toml", Examples.FOLDER)
                        .config()
                        .forges())
                .hasSize(1);
    }

    @Test
    void aFileThatCannotBeReadIsNamed(@TempDir Path folder) throws IOException {
        Path absent = folder.resolve("absent.toml");
        assertThat(problem(absent)).isEqualTo(absent + ": there is no such file");
        Path latin = folder.resolve("latin.toml");
        Files.write(latin, "name = \"Schmiede im Gartenhäuschen\"".getBytes(StandardCharsets.ISO_8859_1));
        assertThat(problem(latin)).isEqualTo(latin + ": not UTF-8 text");
        Path large = folder.resolve("large.toml");
        Files.write(large, new byte[5 << 20]);
        assertThat(problem(large)).isEqualTo(large + ": larger than a configuration can be");
    }

    @Test
    void withoutASourceThereIsAWarning() throws IOException, ConfigException {
        String text = Examples.text("shed.toml").replaceFirst("(?s)\\[\\[source]].*?\\n\\n", "");
        CheckedConfig checked = ConfigReader.read(text, "shed.toml", Examples.FOLDER);
        assertThat(checked.config().sources()).isEmpty();
        assertThat(checked.warnings())
                .extracting(ConfigProblem::text)
                .containsExactly("shed.toml:1: source: no source: nothing will be read; write [[source]] and its kind");
    }

    private static CheckedConfig reference() throws IOException, ConfigException {
        return ConfigReader.read(Examples.text("reference.toml"), "reference.toml", Examples.FOLDER);
    }

    private static BankfireConfig withOverrides(String... overrides) throws IOException, ConfigException {
        return ConfigReader.read(Examples.text("shed.toml"), "shed.toml", Examples.FOLDER, List.of(overrides))
                .config();
    }

    private static String problem(Path file) {
        ConfigException exception = catchThrowableOfType(ConfigException.class, () -> ConfigReader.read(file));
        assertThat(exception.problems()).hasSize(1);
        return exception.problems().get(0).text();
    }

    private static final String CONTRACT = """
            [dashboard]
            listen = "127.0.0.1:8440"          # anything but loopback needs [access]
            [store]
            kind = "sqlite"                    # or "influx"
            path = "bankfire.db"
            [[source]]
            kind = "serial"                    # serial | mqtt | replay | virtual
            port = "/dev/ttyUSB0"
            baud = 115200
            [[forge]]
            id = "shed"
            name = "Shed forge"
            target = "1150 degC"
            chamber-limit = "1260 degC"
            [forge.burner]
            fuel = "propane"
            jet = "0.8 mm"
            throat = "18 mm"
            discharge = 0.85
            [forge.chamber]
            inside = ["200 mm", "160 mm", "230 mm"]   # width, height, depth
            probe-lag = "12 s"
            [[forge.lining]]
            material = "insulating-firebrick-23"
            thickness = "76 mm"
            [[forge.lining]]
            material = "salvaged block"
            thickness = "80 mm"
            density = "550 kg/m3"
            heat-capacity = "1050 J/(kg K)"
            conductivity = [["20 degC", "0.14 W/(m K)"], ["1000 degC", "0.24 W/(m K)"]]
            service-limit = "1000 degC"
            [[forge.opening]]
            name = "front"
            size = ["90 mm", "110 mm"]
            [[forge.opening]]
            name = "rear"
            size = ["76 mm", "80 mm"]
            plug = true
            """;
}
