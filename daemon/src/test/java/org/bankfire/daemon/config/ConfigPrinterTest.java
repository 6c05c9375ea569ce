package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ConfigPrinterTest {
    @Test
    void everyDefaultIsWrittenOut() throws IOException, ConfigException {
        BankfireConfig config = read(Examples.text("shed.toml"), Examples.FOLDER);
        assertThat(ConfigPrinter.print(config)).isEqualTo(RESOLVED_SHED);
    }

    @ParameterizedTest
    @ValueSource(strings = {"shed.toml", "reference.toml"})
    void whatIsPrintedReadsBackTheSameFromAnyFolder(String example) throws IOException, ConfigException {
        BankfireConfig config = read(Examples.text(example), Examples.FOLDER);
        assertThat(read(ConfigPrinter.print(config), Path.of("/elsewhere"))).isEqualTo(config);
    }

    @Test
    void figuresInOddUnitsReadBackToTheLastBit() throws IOException, ConfigException {
        BankfireConfig config = ConfigReader.read(
                        Examples.text("shed.toml"),
                        "shed.toml",
                        Examples.FOLDER,
                        List.of(
                                "burner.jet=0.0315 in",
                                "burner.choke=13.7 %",
                                "burner.obstruction=0.073",
                                "burner.heat-up-pressure=11.3 psi",
                                "burner.fuel={ propane = \"33.37 %\", propylene = \"33.3 %\", butane = 0.333 }",
                                "target=2012.7 degF",
                                "ambient=289.35 K",
                                "gas-limit=37.3 psi",
                                "gas-on=3.7 inH2O",
                                "gas-price=1.3499 USD/lb",
                                "lining.0.density=30.7 lb/ft3",
                                "lining.0.thickness=0.23 ft",
                                "altitude=1234.5 ft",
                                "no-data-after=0.07 min",
                                "steady-band=97 K/h",
                                "name=\"A \\\"quoted\\\" \\\\ näme \\u0007\\t\""))
                .config();
        assertThat(read(ConfigPrinter.print(config), Examples.FOLDER)).isEqualTo(config);
    }

    /** The reference file is what users read: it must hold every key, and none that is not read. */
    @Test
    void theReferenceFileHoldsEveryKey() throws IOException, ConfigException {
        Problems problems = new Problems();
        String text = Examples.text("reference.toml");
        ConfigReader.read(text, "reference.toml", Examples.FOLDER, List.of(), problems);
        Set<String> known = new TreeSet<>(problems.keysAskedFor());
        // Refused until they are there; a message names them.
        known.remove("access");
        assertThat(keysOf(text)).isEqualTo(known);
    }

    @Test
    void theReferenceFileRaisesNoDoubtsButAbsentFiles() throws IOException, ConfigException {
        assertThat(ConfigReader.read(Examples.text("reference.toml"), "reference.toml", Examples.FOLDER)
                        .warnings())
                .extracting(ConfigProblem::allowed)
                .hasSize(13)
                .allSatisfy(text -> assertThat(text).startsWith("there is no readable file /srv/bankfire/"));
    }

    private static BankfireConfig read(String text, Path folder) throws ConfigException {
        return ConfigReader.read(text, "file.toml", folder).config();
    }

    /** The dotted keys and tables of a TOML text that has a header or a key a line. */
    private static Set<String> keysOf(String text) {
        Pattern header = Pattern.compile("\\[+([a-z.-]+)]+.*");
        Pattern key = Pattern.compile("([a-z-]+) = .*");
        Set<String> keys = new TreeSet<>();
        String table = "";
        for (String line : text.lines().toList()) {
            Matcher asHeader = header.matcher(line);
            Matcher asKey = key.matcher(line);
            if (asHeader.matches()) {
                table = asHeader.group(1);
                keys.add(table);
            } else if (asKey.matches()) {
                keys.add(table + "." + asKey.group(1));
            }
        }
        return keys;
    }

    private static final String RESOLVED_SHED = """
            [daemon]
            ledger-threads = "auto"

            [dashboard]
            listen = "127.0.0.1:8440"

            [store]
            kind = "sqlite"
            path = "/srv/bankfire/bankfire.db"
            keep-readings = "730 days"

            [[source]]
            kind = "serial"
            port = "/dev/ttyUSB0"
            baud = 115200
            checksum = "optional"
            format = "senml"
            forge = "shed"

            [[forge]]
            id = "shed"
            name = "Shed forge"
            target = "1150 degC"
            chamber-limit = "1260 degC"
            chamber-high = "1240 degC"
            shell-limit = "250 degC"
            gas-limit = "4 bar"
            gas-on = "10 mbar"
            no-data-after = "3 s"
            lighting-time = "13.5 s"
            rated-stock = "8 %"
            temperature-deadband = "12 K"
            steady-band = "2 K/min"
            ambient = "20 degC"
            altitude = "0 m"

            [forge.burner]
            fuel = "propane"
            jet = "0.8 mm"
            throat = "18 mm"
            discharge = 0.85
            discharge-uncertainty = 0.05
            choke = "0 %"
            obstruction = "0 %"
            heat-up-pressure = "1 bar"

            [forge.chamber]
            inside = ["200 mm", "160 mm", "230 mm"]
            probe-lag = "12 s"

            [[forge.lining]]
            material = "insulating-firebrick-23"
            thickness = "76 mm"

            [[forge.opening]]
            name = "front"
            size = ["90 mm", "110 mm"]
            plug = false

            [[forge.opening]]
            name = "rear"
            size = ["76 mm", "80 mm"]
            plug = true
            """;
}
