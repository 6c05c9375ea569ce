package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The store and its server: defaults, mistakes, doubts and the secret. */
class StoreProblemsTest {
    private static final String URL_ALLOWED =
            "http://HOST:PORT or https://HOST:PORT, without a user or a path, as in \"http://127.0.0.1:8086\"";

    @Test
    void aServerGetsTheseDefaults() throws IOException, ConfigException {
        CheckedConfig checked = read("kind = \"influx\"");
        assertThat(checked.warnings()).isEmpty();
        assertThat(checked.config().store())
                .isEqualTo(new StoreConfig(
                        Path.of("/srv/bankfire/bankfire.db"),
                        Duration.ofDays(730),
                        new StoreConfig.Server(
                                new InfluxSettings(URI.create("http://127.0.0.1:8086"), "bankfire", null, null),
                                Duration.ofDays(7),
                                2_000_000_000L)));
        assertThat(checked.config().store().kind()).isEqualTo(StoreConfig.Kind.INFLUX);
    }

    @Test
    void whatIsKeptHereIsNotKeptLongerThanThere() throws IOException, ConfigException {
        StoreConfig store =
                read("kind = \"influx\"\nkeep-readings = \"2 days\"").config().store();
        assertThat(store.server()).extracting(StoreConfig.Server::keepLocal).isEqualTo(Duration.ofDays(2));
    }

    @Test
    void itIsPrintedWithoutTheSecret(@TempDir Path folder) throws IOException, ConfigException {
        Path secret = folder.resolve("token");
        Files.writeString(secret, "hush-hush\n");
        BankfireConfig config = read("""
                kind = "influx"
                url = "https://club.example:8086/"
                database = "club/forges"
                user = "forges"
                password-file = "%s"
                keep-local = "36 h"
                spool-limit = "1.5 MB"
                """.formatted(secret)).config();
        String printed = ConfigPrinter.print(config);
        assertThat(printed).contains("""
                [store]
                kind = "influx"
                path = "/srv/bankfire/bankfire.db"
                keep-readings = "730 days"
                url = "https://club.example:8086"
                database = "club/forges"
                user = "forges"
                password-file = "%s"
                keep-local = "1.5 days"
                spool-limit = "0.0015 GB"
                """.formatted(secret)).doesNotContain("hush-hush");
        assertThat(ConfigReader.read(printed, "printed.toml", Examples.FOLDER).config())
                .isEqualTo(config);
    }

    static Stream<Arguments> mistakes() {
        return Stream.of(
                arguments("url = \"http://h:1\"", "5: store.url = \"http://h:1\": goes with kind = \"influx\" only"),
                arguments(
                        "kind = \"sqlite\"\nspool-limit = \"1 GB\"",
                        "6: store.spool-limit = \"1 GB\": goes with kind = \"influx\" only"),
                arguments(
                        "pth = \"x.db\"",
                        "5: store.pth = \"x.db\": unknown key; known here: keep-readings, kind, path; did you mean"
                                + " \"path\"?"),
                arguments(
                        "kind = \"influx\"\npasword-file = \"x\"",
                        "6: store.pasword-file = \"x\": unknown key; known here: database, keep-local, keep-readings,"
                                + " kind, password-file, path, spool-limit, url, user; did you mean \"password-file\"?"),
                arguments(
                        "kind = \"influx\"\nurl = \"http://forges:hush@h:8086\"",
                        "6: store.url: " + URL_ALLOWED
                                + "; what stands before the @ belongs into user and password-file"),
                arguments(
                        "kind = \"influx\"\nurl = \"http://h:8086/?u=forges&p=hush\"",
                        "6: store.url: " + URL_ALLOWED
                                + "; what stands behind the ? belongs into user and password-file"),
                arguments("kind = \"influx\"\nurl = \"h:8086\"", "6: store.url = \"h:8086\": " + URL_ALLOWED),
                arguments("kind = \"influx\"\nurl = \"http://h\"", "6: store.url = \"http://h\": " + URL_ALLOWED),
                arguments(
                        "kind = \"influx\"\nurl = \"http://h:8086/db\"",
                        "6: store.url = \"http://h:8086/db\": " + URL_ALLOWED),
                arguments(
                        "kind = \"influx\"\ndatabase = \"a b\"",
                        "6: store.database = \"a b\": 1 to 64 letters, digits, '-', '.', '_' and '/'"),
                arguments(
                        "kind = \"influx\"\nuser = \"forges\"",
                        "6: store.user = \"forges\": user and password-file go together; of a token the user may be any"
                                + " name"),
                arguments(
                        "kind = \"influx\"\nkeep-readings = \"3 days\"\nkeep-local = \"4 days\"",
                        "7: store.keep-local = \"4 days\": no longer than keep-readings"),
                arguments(
                        "kind = \"influx\"\nspool-limit = \"2 GiB\"",
                        "6: store.spool-limit = \"2 GiB\": \"GiB\" is not a unit of a size; allowed: a size from 0.001 GB"
                                + " to 1000 GB, as in \"2 GB\" (units: B, kB, MB, GB)"),
                arguments(
                        "kind = \"influxdb\"",
                        "5: store.kind = \"influxdb\": one of sqlite, influx; did you mean \"influx\"?"));
    }

    @ParameterizedTest
    @MethodSource("mistakes")
    void aMistakeIsNamedWithWhatIsAllowed(String lines, String expected) {
        ConfigException refused = catchThrowableOfType(ConfigException.class, () -> read(lines));
        assertThat(refused.problems()).extracting(ConfigProblem::text).contains("shed.toml:" + expected);
    }

    static Stream<Arguments> addresses() {
        return Stream.of(
                arguments("http://club.example:8086", true),
                arguments("http://192.168.1.7:8086", true),
                arguments("https://club.example:8086", false),
                arguments("http://localhost:8086", false),
                arguments("http://127.0.0.9:8086", false),
                arguments("http://[::1]:8086", false));
    }

    @ParameterizedTest
    @MethodSource("addresses")
    void aPasswordThatTravelsReadableOverTheNetIsDoubted(String url, boolean doubted, @TempDir Path folder)
            throws IOException, ConfigException {
        Path secret = folder.resolve("password");
        Files.writeString(secret, "hush-hush\n");
        List<ConfigProblem> warnings = read("kind = \"influx\"\nurl = \"%s\"\nuser = \"u\"\npassword-file = \"%s\""
                        .formatted(url, secret))
                .warnings();
        assertThat(warnings).hasSize(doubted ? 1 : 0);
        assertThat(warnings).allMatch(warning -> warning.allowed().contains("travels readable over http://"));
    }

    private static CheckedConfig read(String lines) throws IOException, ConfigException {
        String text = Examples.text("shed.toml").replaceFirst("\\[\\[source]]", "[store]\n" + lines + "\n[[source]]");
        return ConfigReader.read(text, "shed.toml", Examples.FOLDER);
    }
}
