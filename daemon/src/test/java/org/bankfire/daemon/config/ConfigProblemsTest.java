package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is said of a wrong configuration. Lines are counted in {@code shed.toml} as it stands. */
class ConfigProblemsTest {
    @Test
    void aProblemHasItsPartsApart() throws IOException {
        List<ConfigProblem> problems = problemsOf(replaced("jet = \"0.8 mm\"", "jet = \"8 mm\""));
        assertThat(problems)
                .containsExactly(new ConfigProblem(
                        "shed.toml",
                        16,
                        "forge.0.burner.jet",
                        "\"8 mm\"",
                        "allowed: a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)",
                        ""));
    }

    @ParameterizedTest
    @MethodSource({"wrongFigures", "wrongWords", "missingKeys", "contradictions", "brokenSyntax"})
    void aMistakeIsToldWithFileLineKeyValueAndWhatIsAllowed(String from, String to, String expected)
            throws IOException {
        assertThat(textsOf(replaced(from, to))).containsExactly("shed.toml:" + expected);
    }

    static Stream<Arguments> wrongFigures() {
        return Stream.of(
                arguments(
                        "fuel = \"propane\"",
                        "fuel = { propane = \"160 %\" }",
                        "15: forge.0.burner.fuel.propane = \"160 %\": allowed: a number from 0 % to 100 %, as in \"60 %\" (units: none, %)"),
                arguments(
                        "fuel = \"propane\"",
                        "choke = \"100 %\"",
                        "15: forge.0.burner.choke = \"100 %\": allowed: a number from 0 % to 95 %, as in \"20 %\" (units: none, %)"),
                arguments(
                        "fuel = \"propane\"",
                        "heat-up-pressure = \"5 bar\"",
                        "15: forge.0.burner.heat-up-pressure = \"5 bar\": allowed: a pressure from 0.01 bar to 4 bar, as in \"1 bar\" (units: bar, mbar, Pa, hPa, kPa, psi, inH2O)"),
                arguments(
                        "jet = \"0.8 mm\"",
                        "jet = \"0.8\"",
                        "16: forge.0.burner.jet = \"0.8\": it needs its unit; allowed: a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "jet = \"0.8 mm\"",
                        "jet = 0.8",
                        "16: forge.0.burner.jet = 0.8: it needs its unit; allowed: a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "jet = \"0.8 mm\"",
                        "jet = true",
                        "16: forge.0.burner.jet = true: allowed: a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "jet = \"0.8 mm\"",
                        "jet = \"0.8 bar\"",
                        "16: forge.0.burner.jet = \"0.8 bar\": \"bar\" is not a unit of a length; allowed: a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "jet = \"0.8 mm\"",
                        "jet = 0.8 mm",
                        "16: jet = 0.8 mm: a value with its unit stands in quotes: jet = \"0.8 mm\""),
                arguments(
                        "throat = \"18 mm\"",
                        "throat = \"18 mm\"\ndischarge = 1.2",
                        "18: forge.0.burner.discharge = 1.2: allowed: a number from 0.3 to 1, as in \"0.85\" (units: none, %)"),
                arguments(
                        "target = \"1150 degC\"",
                        "target = \"1150 C\"",
                        "12: forge.0.target = \"1150 C\": \"C\" is not a unit of a temperature; allowed: a temperature from 300 degC to 1600 degC, as in \"1150 degC\" (units: degC, degF, K)"),
                arguments(
                        "size = [\"76 mm\", \"80 mm\"]",
                        "size = [\"76 mm\"]",
                        "32: forge.0.opening.1.size = [\"76 mm\"]: a list of width and height, each a length from 1 mm to 2000 mm, as in \"200 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "size = [\"76 mm\", \"80 mm\"]",
                        "size = [\"76 mm\",\n\"80\"]",
                        "33: forge.0.opening.1.size.1 = \"80\": it needs its unit; allowed: a length from 1 mm to 2000 mm, as in \"200 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "name = \"Shed forge\"",
                        "gas-price = 3.2",
                        "11: forge.0.gas-price = 3.2: a price per kg or lb from 0.001 to 1000000, as in \"3.20 EUR/kg\""),
                arguments(
                        "name = \"Shed forge\"",
                        "gas-price = \"3 XYZ/kg\"",
                        "11: forge.0.gas-price = \"3 XYZ/kg\": a price per kg or lb from 0.001 to 1000000, as in \"3.20 EUR/kg\""),
                arguments(
                        "name = \"Shed forge\"",
                        "currency = \"Euro\"",
                        "11: forge.0.currency = \"Euro\": a currency by its ISO 4217 code, as in \"EUR\""),
                arguments(
                        "port = \"/dev/ttyUSB0\"",
                        "port = \"a\"\nbaud = \"fast\"",
                        "7: source.0.baud = \"fast\": a whole number from 300 to 4000000"),
                arguments(
                        "port = \"/dev/ttyUSB0\"",
                        "port = \"a\"\nbaud = 200",
                        "7: source.0.baud = 200: a whole number from 300 to 4000000"));
    }

    static Stream<Arguments> wrongWords() {
        return Stream.of(
                arguments(
                        "fuel = \"propane\"",
                        "fuel = { propan = \"60 %\", butane = \"40 %\", propane = \"60 %\" }",
                        "15: forge.0.burner.fuel.propan = \"60 %\": unknown key; known here: butane, ethane, isobutane, methane, propane, propylene; did you mean \"propane\"?"),
                arguments(
                        "fuel = \"propane\"",
                        "fuel = 3",
                        "15: forge.0.burner.fuel = 3: one of propane, butane, isobutane, propylene, methane, or a mixture by volume, as in { propane = \"60 %\", butane = \"40 %\" }"),
                arguments(
                        "fuel = \"propane\"",
                        "chok = \"20 %\"",
                        "15: forge.0.burner.chok = \"20 %\": unknown key; known here: choke, discharge, discharge-uncertainty, fuel, heat-up-pressure, jet, obstruction, throat; did you mean \"choke\"?"),
                arguments(
                        "jet = \"0.8 mm\"",
                        "jett = \"0.8 mm\"\njet = \"0.8 mm\"",
                        "16: forge.0.burner.jett = \"0.8 mm\": unknown key; known here: choke, discharge, discharge-uncertainty, fuel, heat-up-pressure, jet, obstruction, throat; did you mean \"jet\"?"),
                arguments(
                        "fuel = \"propane\"",
                        "fuel = \"propan\"",
                        "15: forge.0.burner.fuel = \"propan\": one of propane, butane, isobutane, propylene, methane, or a mixture by volume, as in { propane = \"60 %\", butane = \"40 %\" }; did you mean \"propane\"?"),
                arguments(
                        "kind = \"serial\"",
                        "kind = \"seriel\"",
                        "5: source.0.kind = \"seriel\": one of serial, mqtt, replay, virtual; did you mean \"serial\"?"),
                arguments(
                        "plug = true",
                        "plug = \"open\"",
                        "33: forge.0.opening.1.plug = \"open\": true or \"in\" when a plug closes it, false or \"out\" when not"),
                arguments(
                        "port = \"/dev/ttyUSB0\"",
                        "port = 3",
                        "6: source.0.port = 3: path or name of a serial port, as in \"/dev/ttyUSB0\" or \"COM3\""),
                arguments(
                        "port = \"/dev/ttyUSB0\"",
                        "port = \"a\"\nchecksum = \"yes\"",
                        "7: source.0.checksum = \"yes\": one of optional, required"),
                arguments(
                        "port = \"/dev/ttyUSB0\"",
                        "port = \"a\"\nbroker = \"tcp://b\"",
                        "7: source.0.broker = \"tcp://b\": unknown key; known here: baud, checksum, forge, format, kind, port"),
                arguments(
                        "id = \"shed\"",
                        "id = \"my shed\"",
                        "10: forge.0.id = \"my shed\": forge id \"my shed\": allowed are 1 to 64 letters, digits, '-', '.' and '_', the first a letter or digit"),
                arguments(
                        "[[source]]",
                        "[dashbord]\n[[source]]",
                        "4: dashbord = a table: unknown key; known here: access, daemon, dashboard, forge, output, source, store; did you mean \"dashboard\"?"),
                arguments(
                        "[[source]]",
                        "[store]\nkind = \"sqlit\"\n[[source]]",
                        "5: store.kind = \"sqlit\": one of sqlite, influx; did you mean \"sqlite\"?"),
                arguments(
                        "[[source]]",
                        "[access]\n[[source]]",
                        "4: access = a table: not available yet in this version: the page is served to this machine only"));
    }

    static Stream<Arguments> missingKeys() {
        return Stream.of(
                arguments(
                        "jet = \"0.8 mm\"",
                        "#",
                        "14: forge.0.burner.jet: missing: a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "id = \"shed\"",
                        "#",
                        "9: forge.0.id: missing: the forge's id: letters, digits, '-', '.' and '_'"),
                arguments("kind = \"serial\"", "#", "4: source.0.kind: missing: one of serial, mqtt, replay, virtual"),
                arguments(
                        "port = \"/dev/ttyUSB0\"",
                        "#",
                        "4: source.0.port: missing: path or name of a serial port, as in \"/dev/ttyUSB0\" or \"COM3\""),
                arguments(
                        "kind = \"serial\"\nport = \"/dev/ttyUSB0\"",
                        "kind = \"mqtt\"\nbroker = \"tcp://b\"",
                        "4: source.0.topics: missing: a list of topics, as in [\"forges/#\"]; or [[source.topic]] tables with a filter each"),
                arguments(
                        "[[source]]",
                        "[source]",
                        "4: source = a table: a list of tables: write [[source]] before each"),
                arguments(
                        "[forge.burner]",
                        "[[forge.burner]]",
                        "14: forge.0.burner = [a table]: a table: write [forge.burner]"));
    }

    static Stream<Arguments> contradictions() {
        return Stream.of(
                arguments(
                        "fuel = \"propane\"",
                        "fuel = { propane = \"60 %\", butane = \"30 %\" }",
                        "15: forge.0.burner.fuel = a table: the parts of a mixture, by volume, must add up to 100 %, as in { propane = \"60 %\", butane = \"40 %\" }; they add up to 90 %"),
                arguments(
                        "fuel = \"propane\"",
                        "choke = \"90 %\"\nobstruction = \"80 %\"",
                        "16: forge.0.burner.obstruction = \"80 %\": choke and obstruction must leave 5 % of the throat free; they leave 2 %"),
                arguments(
                        "jet = \"0.8 mm\"\nthroat = \"18 mm\"",
                        "jet = \"2 mm\"\nthroat = \"2 mm\"",
                        "17: forge.0.burner.throat = \"2 mm\": the throat must be wider than the jet"),
                arguments(
                        "name = \"rear\"",
                        "name = \"front\"",
                        "31: forge.0.opening.1.name = \"front\": there is an opening of this name already"),
                arguments(
                        "size = [\"76 mm\", \"80 mm\"]",
                        "size = [\"300 mm\", \"80 mm\"]",
                        "32: forge.0.opening.1.size = [\"300 mm\", \"80 mm\"]: an opening is no larger than the wall that it is in"),
                arguments(
                        "target = \"1150 degC\"",
                        "target = \"1300 degC\"",
                        "12: forge.0.target = \"1300 degC\": the chamber-limit, 1260 degC, must be above the target, 1300 degC"),
                arguments(
                        "target = \"1150 degC\"",
                        "chamber-high = \"1300 degC\"",
                        "12: forge.0.chamber-high = \"1300 degC\": no higher than the chamber-limit, 1260 degC"),
                arguments(
                        "insulating-firebrick-23",
                        "aerated-concrete-500",
                        "12: forge.0.target = \"1150 degC\": the chamber-limit, 700 degC, must be above the target, 1150 degC"),
                arguments(
                        "name = \"Shed forge\"",
                        "gas-price = \"3.2 EUR/kg\"\ncurrency = \"USD\"",
                        "11: forge.0.gas-price = \"3.2 EUR/kg\": in the currency USD that stands beside it"),
                arguments(
                        "[[source]]",
                        "[[source]]\nkind = \"serial\"\nport = \"/dev/ttyUSB0\"\n[[source]]",
                        "9: source.1.port = \"/dev/ttyUSB0\": each port is read once; this one stands in line 6 already"));
    }

    static Stream<Arguments> brokenSyntax() {
        return Stream.of(
                arguments(
                        "id = \"shed\"",
                        "id = \"shed\"\nid = \"barn\"",
                        "11: id = \"barn\": written twice: id previously defined at line 10, column 1"),
                arguments(
                        "[[source]]",
                        "[store]\n[store]\n[[source]]",
                        "5: [store]: written twice: store previously defined at line 4, column 1"),
                arguments(
                        "kind = \"serial\"",
                        "kind = serial",
                        "5: kind = serial: not TOML: Unexpected 's', expected ', \", ''', \"\"\", a number, a boolean, a date/time, an array, or a table (column 8)"),
                arguments(
                        "[forge.burner]",
                        "[forge.burner",
                        "14: [forge.burner: not TOML: Unexpected end of line, expected ] (column 14)"));
    }

    @Test
    void allMistakesOfAFileAreToldAtOnceInItsOrder() throws IOException {
        String text = replaced("jet = \"0.8 mm\"", "jet = \"8 mm\"")
                .replace("plug = true", "plugg = true")
                .replace("port = ", "prt = ")
                .replace("insulating-firebrick-23", "insulating-firebrik-23");
        assertThat(problemsOf(text))
                .extracting(problem -> problem.line() + " " + problem.key() + " " + problem.nearest())
                .containsExactly(
                        "4 source.0.port ",
                        "6 source.0.prt port",
                        "16 forge.0.burner.jet ",
                        "23 forge.0.lining.0.material insulating-firebrick-23",
                        "33 forge.0.opening.1.plugg plug");
    }

    @Test
    void anUnknownMaterialIsToldWithTheLibrary() throws IOException {
        assertThat(textsOf(replaced("insulating-firebrick-23", "insulating-fire-brick-23")))
                .singleElement()
                .asString()
                .startsWith(
                        "shed.toml:23: forge.0.lining.0.material = \"insulating-fire-brick-23\": not in the library")
                .contains("dense-firebrick", "describe another with density, heat-capacity and conductivity")
                .endsWith("did you mean \"insulating-firebrick-23\"?");
    }

    @Test
    void aMaterialDescribedInPlaceNeedsAllItsFiguresAndPairsThatRise() throws IOException {
        String text = replaced(
                "material = \"insulating-firebrick-23\"",
                "material = \"block\"\nconductivity = [[\"800 degC\", \"0.2 W/(m K)\"],\n[\"20 degC\", \"0.1 W/(m K)\"]]");
        assertThat(textsOf(text))
                .containsExactly(
                        "shed.toml:22: forge.0.lining.0.density: missing: a density from 20 kg/m3 to 5000 kg/m3, as in "
                                + "\"550 kg/m3\" (units: kg/m3, g/cm3, lb/ft3)",
                        "shed.toml:22: forge.0.lining.0.heat-capacity: missing: a heat capacity from 100 J/(kg K) to "
                                + "5000 J/(kg K), as in \"1050 J/(kg K)\" (units: J/(kg K), kJ/(kg K))",
                        "shed.toml:25: forge.0.lining.0.conductivity.1 = [\"20 degC\", \"0.1 W/(m K)\"]: temperatures "
                                + "must rise from pair to pair");
    }

    @Test
    void aLiningOfUnknownLimitNeedsAChamberLimit() throws IOException {
        String text = replaced(
                "material = \"insulating-firebrick-23\"",
                "material = \"block\"\ndensity = \"550 kg/m3\"\nheat-capacity = \"1050 J/(kg K)\"\n"
                        + "conductivity = [[\"20 degC\", \"0.14 W/(m K)\"]]");
        assertThat(textsOf(text))
                .containsExactly(
                        "shed.toml:9: forge.0.chamber-limit: missing: highest temperature for the lining, as in "
                                + "\"1000 degC\", because nobody has told the service-limit of block");
    }

    @Test
    void aFileWithoutAForgeIsRefused() {
        assertThat(textsOf("[[source]]\nkind = \"serial\"\nport = \"a\"\n"))
                .containsExactly("shed.toml:1: forge: missing: one forge at least: write [[forge]] and its id, burner, "
                        + "chamber and lining");
        assertThat(textsOf("")).hasSize(1);
        assertThat(textsOf("forge = []\n"))
                .containsExactly("shed.toml:1: forge = []: one forge at least: write [[forge]] and its id, burner, "
                        + "chamber and lining");
    }

    @Test
    void twoForgesOfOneIdAreRefused() throws IOException {
        String shed = Examples.text("shed.toml");
        String second = shed.substring(shed.indexOf("[[forge]]"));
        assertThat(textsOf(shed + second))
                .containsExactly(
                        "shed.toml:35: forge.1.id = \"shed\": each forge has an id of its own; this one stands in line 10");
    }

    @ParameterizedTest
    @ValueSource(strings = {"0.0.0.0:8440", "192.168.1.5:80", "forge.example:8440", "[::]:8440", "128.0.0.1:1"})
    void anAddressThatOthersReachNeedsAccessControlWhichIsNotThereYet(String listen) throws IOException {
        assertThat(textsOf("[dashboard]\nlisten = \"" + listen + "\"\n" + Examples.text("shed.toml")))
                .containsExactly("shed.toml:2: dashboard.listen = \"" + listen
                        + "\": anything but this machine itself needs [access], which is not available yet in this "
                        + "version; allowed: 127.0.0.1, [::1] or localhost with a port");
    }

    @ParameterizedTest
    @ValueSource(strings = {"8440", "127.0.0.1", "127.0.0.1:65536", "127.0.0.1:x", "::1:8440", "http://127.0.0.1:80"})
    void anAddressThatIsNoneIsRefused(String listen) throws IOException {
        assertThat(textsOf("[dashboard]\nlisten = \"" + listen + "\"\n" + Examples.text("shed.toml")))
                .containsExactly("shed.toml:2: dashboard.listen = \"" + listen
                        + "\": HOST:PORT with a port from 0 to 65535, as in \"127.0.0.1:8440\"");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "[forge.first-fire] | forge.0.first-fire.schedule",
                "[forge.first-fire]~schedule = \"brick\" | forge.0.first-fire.schedule",
                "[[forge.first-fire.step]]~to = \"110 degC\" | forge.0.first-fire.step.0.rise",
                "[[forge.first-fire.step]]~to = \"110 K\"~rise = \"30 K/h\" | forge.0.first-fire.step.0.to",
                "[[forge.first-fire.step]]~to = \"110 degC\"~rise = \"30 degC/h\" | forge.0.first-fire.step.0.rise",
                "[forge.cylinder]~tare = \"10 kg\" | forge.0.cylinder.capacity",
                "[forge.cylinder]~capacity = \"500 kg\" | forge.0.cylinder.capacity",
            })
    void whatIsSaidOfTheCylinderAndTheFirstFiringIsJudged(String lines, String key) throws IOException {
        String text = replaced("[forge.chamber]", lines.strip().replace('~', '\n') + "\n[forge.chamber]");
        assertThat(problemsOf(text)).extracting(ConfigProblem::key).containsExactly(key.strip());
    }

    @Test
    void stepsOfAFirstFiringMustRiseAndStandAlone() throws IOException {
        String step = "[[forge.first-fire.step]]\nto = \"200 degC\"\nrise = \"30 K/h\"\n";
        assertThat(textsOf(replaced("[forge.chamber]", step + step + "[forge.chamber]")))
                .singleElement()
                .asString()
                .contains("step 2 of the first firing goes to 200.0 °C: allowed is above the 200.0 °C");
        assertThat(textsOf(replaced(
                        "[forge.chamber]", "[forge.first-fire]\nschedule = \"block\"\n" + step + "[forge.chamber]")))
                .singleElement()
                .asString()
                .contains("either a schedule or steps of your own, not both");
    }

    @Test
    void textThatIsNoTomlAtAllIsToldAndNeverFatal() {
        assertThat(problemsOf("[".repeat(100_000))).isNotEmpty();
        assertThat(problemsOf("a = " + "[".repeat(100_000) + "]".repeat(100_000)))
                .extracting(ConfigProblem::allowed)
                .containsExactly("not TOML: brackets inside brackets without end");
        assertThat(problemsOf("a = " + "[".repeat(40) + "]".repeat(40)))
                .extracting(ConfigProblem::allowed)
                .containsExactly("nothing in a configuration lies more than 16 levels deep");
        assertThat(problemsOf("#".repeat(2_000_000)))
                .extracting(ConfigProblem::allowed)
                .containsExactly("a configuration is shorter than 1048576 characters");
    }

    @Test
    void aMessageCarriesNoControlCharactersToTheTerminal() throws IOException {
        String text = replaced("id = \"shed\"", "id = \"\\u001b[2Jshed\"\n\"\\u0007key\" = 1");
        assertThat(textsOf(text)).hasSize(2).allSatisfy(line -> assertThat(line).matches("\\P{Cntrl}*"));
    }

    /** {@code shed.toml} with one text, which stands in it once, replaced. */
    private static String replaced(String from, String to) throws IOException {
        String text = Examples.text("shed.toml");
        assertThat(text.indexOf(from)).as(from).isNotNegative().isEqualTo(text.lastIndexOf(from));
        return text.replace(from, to);
    }

    private static List<String> textsOf(String text) {
        return problemsOf(text).stream().map(ConfigProblem::text).toList();
    }

    private static List<ConfigProblem> problemsOf(String text) {
        ConfigException exception = catchThrowableOfType(
                ConfigException.class, () -> ConfigReader.read(text, "shed.toml", Examples.FOLDER));
        assertThat(exception).as("nothing was found wrong").isNotNull();
        assertThat(exception.getMessage())
                .isEqualTo(
                        exception.problems().stream().map(ConfigProblem::text).collect(Collectors.joining("\n")));
        return exception.problems();
    }
}
