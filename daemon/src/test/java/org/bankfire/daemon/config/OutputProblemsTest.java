package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.config.OutputConfig.Security;
import org.bankfire.daemon.config.OutputConfig.Telling;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Outputs: their defaults, mistakes, doubts and secrets. */
class OutputProblemsTest {
    private static final String URL_ALLOWED =
            "http://HOST… or https://HOST…, without a user, as in \"https://host.example/alarms\"";

    @Test
    void outputsGetTheseDefaults() throws IOException, ConfigException {
        CheckedConfig checked = read("""
                kind = "mqtt"
                broker = "tcp://b"
                [[output]]
                kind = "webhook"
                url = "https://h.example/x"
                [[output]]
                kind = "mail"
                host = "m.example"
                from = "a@m.example"
                to = ["b@m.example"]
                [[output]]
                kind = "command"
                program = "siren"
                """);
        assertThat(checked.warnings()).isEmpty();
        assertThat(checked.config().outputs())
                .containsExactly(
                        new OutputConfig.Mqtt(
                                new Telling("mqtt", Priority.LOW, List.of(), true, true, 3_600, 86_400),
                                new MqttSettings(
                                        "tcp://b:1883",
                                        "bankfire-out",
                                        List.of(),
                                        null,
                                        null,
                                        null,
                                        "bankfire/daemon/status"),
                                "bankfire",
                                10),
                        new OutputConfig.Webhook(
                                people("webhook"), URI.create("https://h.example/x"), null, null, null, null),
                        new OutputConfig.Mail(
                                people("mail"),
                                "m.example",
                                587,
                                Security.STARTTLS,
                                null,
                                null,
                                "a@m.example",
                                List.of("b@m.example"),
                                null),
                        new OutputConfig.Command(people("command"), "siren", List.of(), 10));
    }

    private static Telling people(String name) {
        return new Telling(name, Priority.HIGH, List.of(), false, false, 3_600, 86_400);
    }

    @Test
    void aProgramWithAPathStandsBesideTheFile(@TempDir Path folder) throws IOException, ConfigException {
        CheckedConfig checked = read("kind = \"command\"\nprogram = \"bin/siren\"\n");
        assertThat(checked.config().outputs().get(0))
                .isEqualTo(new OutputConfig.Command(people("command"), "/srv/bankfire/bin/siren", List.of(), 10));
        assertThat(checked.warnings())
                .extracting(ConfigProblem::allowed)
                .containsExactly("there is no program /srv/bankfire/bin/siren that may be run");
        Path program = Files.createFile(folder.resolve("siren"));
        assertThat(program.toFile().setExecutable(true)).isTrue();
        assertThat(read("kind = \"command\"\nprogram = '" + program + "'\n").warnings())
                .isEmpty();
    }

    @ParameterizedTest
    @MethodSource({"all", "peers", "mails"})
    void aMistakeInAnOutputIsTold(String output, String expected) {
        ConfigException exception = catchThrowableOfType(ConfigException.class, () -> read(output));
        assertThat(exception).as("nothing was found wrong").isNotNull();
        assertThat(exception.problems()).extracting(ConfigProblem::text).containsExactly("shed.toml:" + expected);
    }

    static Stream<Arguments> all() {
        String siren = "kind = \"command\"\nprogram = \"siren\"\n";
        return Stream.of(
                arguments("name = \"x\"", "5: output.0.kind: missing: one of mqtt, webhook, mail, command"),
                arguments(
                        "kind = \"maill\"",
                        "6: output.0.kind = \"maill\": one of mqtt, webhook, mail, command; did you mean \"mail\"?"),
                arguments(
                        siren + "least-priority = \"critcal\"",
                        "8: output.0.least-priority = \"critcal\": one of critical, high, medium, low; did you mean "
                                + "\"critical\"?"),
                arguments(
                        siren + "forges = [\"shedd\"]",
                        "8: output.0.forges = [\"shedd\"]: a list of forges, of shed; did you mean \"shed\"?"),
                arguments(siren + "tell-returns = 1", "8: output.0.tell-returns = 1: true or false"),
                arguments(
                        siren + "name = \"a b\"",
                        "8: output.0.name = \"a b\": 1 to 64 letters, digits, '-', '.' and '_'"),
                arguments(
                        siren + "[[output]]\n" + siren,
                        "9: output.1.kind = \"command\": each output has a name of its own; this one stands in line 6 "
                                + "already"),
                arguments(
                        siren + "give-up = \"2 days\"",
                        "8: output.0.give-up = \"2 days\": critical alarms are tried at least as long as others"),
                arguments(
                        siren + "timeout = \"0 s\"",
                        "8: output.0.timeout = \"0 s\": allowed: a time from 0.1 s to 300 s, as in \"10 s\" (units: s, "
                                + "ms, min, h, days)"),
                arguments(
                        siren + "argument = [\"x\"]",
                        "8: output.0.argument = [\"x\"]: unknown key; known here: arguments, forges, give-up, "
                                + "give-up-critical, kind, least-priority, name, program, tell-acknowledgements, "
                                + "tell-returns, timeout; did you mean \"arguments\"?"));
    }

    static Stream<Arguments> peers() {
        String mqtt = "kind = \"mqtt\"\nbroker = \"tcp://b\"\n";
        return Stream.of(
                arguments(
                        mqtt + "prefix = \"a/#\"",
                        "8: output.0.prefix = \"a/#\": \"a/#\" is not a topic; allowed: up "
                                + "to 65535 bytes, without + and #"),
                arguments(
                        mqtt + "prefix = \"a/\"",
                        "8: output.0.prefix = \"a/\": up to 128 characters, no $ in front and no / behind"),
                arguments(
                        mqtt + "client-id = \"x\"\n[[source]]\nkind = \"mqtt\"\nbroker = \"tcp://b\"\n"
                                + "client-id = \"x\"\ntopics = [\"a\"]",
                        "8: output.0.client-id = \"x\": two connections to one broker need different client-ids, or they "
                                + "throw each other out; this one stands in line 12 already"),
                arguments(
                        "kind = \"webhook\"",
                        "5: output.0.url: missing: " + URL_ALLOWED + "; or url-file, for an address that is a secret"),
                arguments("kind = \"webhook\"\nurl = \"ftp://h\"", "7: output.0.url = \"ftp://h\": " + URL_ALLOWED),
                arguments(
                        "kind = \"webhook\"\nurl = \"https://me:hunter2@h/x\"",
                        "7: output.0.url = \"https://(not shown)@h/x\": " + URL_ALLOWED),
                arguments(
                        "kind = \"webhook\"\nurl = \"https://h\"\nurl-file = \"f\"",
                        "8: output.0.url-file = \"f\": either url or url-file"),
                arguments(
                        "kind = \"webhook\"\nurl = \"http://h\"\nca-file = \"f\"",
                        "8: output.0.ca-file = \"f\": certificates are used with https:// only"),
                arguments(
                        "kind = \"webhook\"\nurl = \"http://h\"\ntoken = \"hunter2\"",
                        "8: output.0.token = (not shown): unknown key; known here: ca-file, forges, give-up, "
                                + "give-up-critical, headers-file, kind, least-priority, name, tell-acknowledgements, "
                                + "tell-returns, token-file, url, url-file"));
    }

    static Stream<Arguments> mails() {
        String mail = "kind = \"mail\"\nhost = \"m.example\"\nfrom = \"a@m.example\"\n";
        String to = mail + "to = [\"b@m.example\"]\n";
        return Stream.of(
                arguments(mail, "5: output.0.to: missing: a list of 1 to 50 addresses, as in [\"smith@shed.example\"]"),
                arguments(
                        mail + "to = []",
                        "9: output.0.to = []: a list of 1 to 50 addresses, as in [\"smith@shed.example\"]"),
                arguments(
                        mail + "to = [\"b\"]",
                        "9: output.0.to = [\"b\"]: \"b\" is not a mail address: Missing final '@domain'"),
                arguments(to + "port = 0", "10: output.0.port = 0: a whole number from 1 to 65535"),
                arguments(to + "security = \"ssl\"", "10: output.0.security = \"ssl\": one of starttls, tls, none"),
                arguments(
                        to + "user = \"u\"",
                        "10: output.0.user = \"u\": a user and a password-file beside each other, or neither"),
                arguments(
                        to + "security = \"none\"\nca-file = \"c\"",
                        "11: output.0.ca-file = \"c\": certificates are used with security = \"starttls\" or \"tls\" "
                                + "only"));
    }

    @Test
    void secretsAreReadFromFilesAndNeverPrinted(@TempDir Path folder) throws IOException, ConfigException {
        Path secret = Files.writeString(folder.resolve("secret"), "hunter2\n");
        CheckedConfig checked = read("""
                kind = "webhook"
                url-file = 'S'
                token-file = 'S'
                headers-file = 'S'
                [[output]]
                kind = "mail"
                host = "m.example"
                security = "none"
                user = "u"
                password-file = 'S'
                from = "a@m.example"
                to = ["b@m.example"]
                """.replace("S", secret.toString()));
        assertThat(ConfigPrinter.print(checked.config()))
                .contains(secret.toString())
                .doesNotContain("hunter2");
        assertThat(checked.warnings())
                .extracting(ConfigProblem::text)
                .containsExactly("shed.toml:15: output.1.password-file = \"" + secret
                        + "\": the password travels readable with security = \"none\"");
    }

    /** The forge of {@code shed.toml}, its source left out, with an output whose first key stands in line 6. */
    private static CheckedConfig read(String output) throws IOException, ConfigException {
        String shed = Examples.text("shed.toml");
        String forge = shed.substring(shed.indexOf("[[forge]]"));
        String source = output.contains("[[source]]") ? "\n\n" : "[[source]]\nkind = \"virtual\"\n";
        return ConfigReader.read(source + "\n\n[[output]]\n" + output + "\n" + forge, "shed.toml", Examples.FOLDER);
    }
}
