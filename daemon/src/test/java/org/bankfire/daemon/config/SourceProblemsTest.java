package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.acquire.replay.ReplaySettings;
import org.bankfire.daemon.acquire.virtual.VirtualSettings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Sources other than the serial line of {@code shed.toml}: their defaults, mistakes, doubts and secrets. */
class SourceProblemsTest {
    private static final String BROKER_ALLOWED =
            "tcp://HOST:PORT or ssl://HOST:PORT, without a user, as in \"tcp://localhost:1883\"";
    private static final String COLUMNS_ALLOWED =
            "a list of names with units, as in [\"time\", \"chamber degC\", \"gas psi\", \"\"]; \"\" passes a column over";

    @Test
    void aBrokerGetsTheseDefaults() throws IOException, ConfigException {
        assertThat(read("kind = \"mqtt\"\nbroker = \"tcp://localhost\"\ntopics = [\"forges/#\"]\n")
                        .config()
                        .sources())
                .containsExactly(new SourceConfig.Mqtt(new MqttSettings(
                        "tcp://localhost:1883",
                        "bankfire",
                        List.of(new MqttSettings.Topic(
                                "forges/#", new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, "shed"))),
                        null,
                        null,
                        null,
                        "bankfire/bankfire/status")));
    }

    @Test
    void aVirtualForgeAndARecordingGetTheseDefaults(@TempDir Path folder) throws IOException, ConfigException {
        assertThat(read("kind = \"virtual\"\n").config().sources())
                .containsExactly(new SourceConfig.Virtual(new VirtualSettings("shed", 1, 4, 1)));
        Path file = Files.createFile(folder.resolve("burn.ndjson"));
        CheckedConfig replay = read("kind = \"replay\"\nfiles = ['" + file + "']\n");
        assertThat(replay.config().sources())
                .containsExactly(new SourceConfig.Replay(new ReplaySettings(List.of(file), 1)));
        assertThat(replay.warnings()).isEmpty();
    }

    @Test
    void aRecordingMayBeReplayedAsFastAsItGoes() throws IOException, ConfigException {
        assertThat(read("kind = \"replay\"\nfiles = [\"/a\"]\nspeed = \"full\"\n")
                        .config()
                        .sources())
                .containsExactly(
                        new SourceConfig.Replay(new ReplaySettings(List.of(Path.of("/a")), Double.POSITIVE_INFINITY)));
    }

    @Test
    void aShareIsReadAndPrintedAndReadBackTheSame() throws IOException, ConfigException {
        BankfireConfig config = read("""
                kind = "mqtt"
                broker = "tcp://b"
                topics = ["forges/#"]
                share = "club"
                share-by = "topic"
                """).config();
        SourceConfig.Mqtt source = (SourceConfig.Mqtt) config.sources().get(0);
        assertThat(source.settings().share()).isEqualTo(new MqttSettings.Share("club", MqttSettings.By.TOPIC));
        assertThat(ConfigReader.read(ConfigPrinter.print(config), "printed.toml", Path.of("/"))
                        .config()
                        .sources())
                .isEqualTo(config.sources());
    }

    @Test
    void whatIsDealtOutByMessageMayBeKeptBesideAForgeThatComesAnotherWay() throws IOException, ConfigException {
        SourceConfig.Mqtt source =
                (SourceConfig.Mqtt) read("""
                kind = "virtual"
                [[source]]
                kind = "mqtt"
                broker = "tcp://b"
                topics = ["forges/#"]
                share = "club"
                """).config().sources().get(1);
        assertThat(source.settings().share()).isEqualTo(new MqttSettings.Share("club", MqttSettings.By.MESSAGE));
        assertThat(source.settings().topics())
                .as("a record without a forge is not taken for the only one's")
                .containsExactly(
                        new MqttSettings.Topic("forges/#", new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null)));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "topics = ['a']; share = 'club' | source.0.share | no other source brings",
                "topics = ['a']; share = 'club'; share-by = 'message' | source.0.share-by | no other source brings",
                "topics = ['a']; forge = 'shed'; share = 'club' | source.0.share | this source brings the forge \"shed\"",
                "topics = ['a']; share-by = 'topic' | source.0.share-by | needs share",
                "topics = ['a']; share = 'a/b'; share-by = 'topic' | source.0.share | 1 to 64 letters",
                "topics = ['a']; share = 'a'; share-by = 'forge' | source.0.share-by | topic",
                "topics = ['$share/club/a'] | source.0.topics | write share = \"NAME\"",
            })
    void aShareThatCannotBeMeantIsTold(String keys, String key, String expected) {
        ConfigException exception = catchThrowableOfType(
                ConfigException.class,
                () -> read("kind = \"mqtt\"\nbroker = \"tcp://b\"\n" + keys.replace("; ", "\n") + "\n"));
        assertThat(exception).as("nothing was found wrong").isNotNull();
        assertThat(exception.problems())
                .singleElement()
                .satisfies(problem -> assertThat(problem.text()).contains(expected, key.substring(9)));
    }

    @ParameterizedTest
    @MethodSource({"brokers", "columns", "others"})
    void aMistakeInASourceIsTold(String source, String expected) {
        ConfigException exception = catchThrowableOfType(ConfigException.class, () -> read(source));
        assertThat(exception).as("nothing was found wrong").isNotNull();
        assertThat(exception.problems()).extracting(ConfigProblem::text).containsExactly("shed.toml:" + expected);
    }

    static Stream<Arguments> brokers() {
        String mqtt = "kind = \"mqtt\"\n";
        String topics = mqtt + "topics = [\"a\"]\nbroker = ";
        String broker = mqtt + "broker = \"tcp://b\"\n";
        return Stream.of(
                arguments(
                        topics + "\"mqtt://b\"",
                        "7: source.0.broker = \"mqtt://b\": " + BROKER_ALLOWED + "; did you mean \"tcp://\"?"),
                arguments(topics + "\"b:1883\"", "7: source.0.broker = \"b:1883\": " + BROKER_ALLOWED),
                arguments(topics + "\"tcp://b:99999\"", "7: source.0.broker = \"tcp://b:99999\": " + BROKER_ALLOWED),
                arguments(topics + "\"tcp://b c\"", "7: source.0.broker = \"tcp://b c\": " + BROKER_ALLOWED),
                arguments(topics + "\"tcp://b/x\"", "7: source.0.broker = \"tcp://b/x\": " + BROKER_ALLOWED),
                arguments(
                        broker + "topics = [\"a/#/b\"]",
                        "7: source.0.topics = [\"a/#/b\"]: \"a/#/b\" is not a topic; allowed: up to 65535 bytes, + alone "
                                + "in a level, # alone in the last"),
                arguments(broker + "topics = []", "7: source.0.topics = []: a list of topics, as in [\"forges/#\"]"),
                arguments(
                        broker + "topics = [\"a\"]\nstatus-topic = \"a/+\"",
                        "8: source.0.status-topic = \"a/+\": \"a/+\" is not a topic; allowed: up to 65535 bytes, without "
                                + "+ and #"),
                arguments(
                        broker + "[[source.topic]]\nforge = \"shed\"",
                        "7: source.0.topic.0.filter: missing: a topic, + and # allowed, as in \"forges/+/readings\""),
                arguments(
                        broker + "topics = [\"a\"]\npassword-file = \"p\"",
                        "8: source.0.password-file = \"p\": a password needs a user beside it"),
                arguments(
                        broker + "topics = [\"a\"]\nca-file = \"p\"",
                        "8: source.0.ca-file = \"p\": certificates are used with ssl:// only"),
                arguments(
                        broker + "topics = [\"a\"]\nclient-id = \"" + "x".repeat(65) + "\"",
                        "8: source.0.client-id = \"" + "x".repeat(60) + "…\": 1 to 64 characters"),
                arguments(
                        broker + "topics = [\"a\"]\n[[source]]\n" + broker + "topics = [\"b\"]",
                        "10: source.1.broker = \"tcp://b\": two connections to one broker need different client-ids, or "
                                + "they throw each other out; this one stands in line 6 already"));
    }

    static Stream<Arguments> columns() {
        String columns = "kind = \"serial\"\nport = \"a\"\nformat = \"columns\"\ncolumns = ";
        return Stream.of(
                arguments(
                        columns + "[\"chamber\"]",
                        "8: source.0.columns.0 = \"chamber\": chamber is a temperature: write degC, degF or K behind it, "
                                + "as in \"chamber degC\""),
                arguments(
                        columns + "[\"chamber degC\",\n\"gas degC\"]",
                        "9: source.0.columns.1 = \"gas degC\": gas is a pressure: write Pa, hPa, kPa, mbar, bar, psi or "
                                + "inH2O behind it, as in \"gas psi\""),
                arguments(
                        columns + "[\"chamber-emf degC\"]",
                        "8: source.0.columns.0 = \"chamber-emf degC\": chamber-emf is a voltage: write V or mV behind it, "
                                + "as in \"chamber-emf mV\""),
                arguments(
                        columns + "[\"shell degC\", \"shell degF\"]",
                        "8: source.0.columns.1 = \"shell degF\": there is a column shell already"),
                arguments(
                        columns + "[\"time s\", \"shell degC\"]",
                        "8: source.0.columns.0 = \"time s\": the time has no unit: Unix seconds or ISO 8601"),
                arguments(
                        columns + "[\"time\", \"\"]",
                        "8: source.0.columns = [\"time\", \"\"]: one column at least must hold a reading: "
                                + COLUMNS_ALLOWED),
                arguments(columns + "[1, \"shell K\"]", "8: source.0.columns.0 = 1: " + COLUMNS_ALLOWED),
                arguments(
                        columns + "[\"shell K\"]\ndelimiter = \", \"",
                        "9: source.0.delimiter = \", \": one character between columns, no letter, digit, quote, sign or "
                                + "point, as in \",\""),
                arguments(
                        "kind = \"serial\"\nport = \"a\"\nformat = \"columns\"",
                        "4: source.0.columns: missing: " + COLUMNS_ALLOWED));
    }

    static Stream<Arguments> others() {
        return Stream.of(
                arguments(
                        "kind = \"replay\"",
                        "4: source.0.files: missing: a list of one or more files, as in [\"burns/first.ndjson\"]"),
                arguments(
                        "kind = \"replay\"\nfiles = []",
                        "6: source.0.files = []: a list of one or more files, as in [\"burns/first.ndjson\"]"),
                arguments(
                        "kind = \"replay\"\nfiles = [\"/\"]\nspeed = 0",
                        "7: source.0.speed = 0: allowed: a number from 0.01 to 1000000, as in \"1\" (units: none, %)"),
                arguments(
                        "kind = \"virtual\"\nrate = 4",
                        "6: source.0.rate = 4: it needs its unit; allowed: a rate from 0.1 Hz to 50 Hz, as in \"4 Hz\" "
                                + "(units: Hz)"),
                arguments(
                        "kind = \"virtual\"\nseed = 1.5",
                        "6: source.0.seed = 1.5: a whole number from 0 to " + Long.MAX_VALUE),
                arguments(
                        "kind = \"serial\"\nport = \"a\"\nforge = \"my shed\"",
                        "7: source.0.forge = \"my shed\": forge id \"my shed\": allowed are 1 to 64 letters, digits, '-', "
                                + "'.' and '_', the first a letter or digit"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "kind = 'serial'~port = 'a'~forge = 'shad' | 7: source.0.forge = \"shad\": no [[forge]] has this id; its "
                        + "readings will be stored and not watched; did you mean \"shed\"?",
                "kind = 'replay'~files = ['absent.ndjson'] | 6: source.0.files = [\"absent.ndjson\"]: there is no readable "
                        + "file /srv/bankfire/absent.ndjson",
                "kind = 'mqtt'~broker = 'ssl://b'~topics = ['a']~ca-file = 'ca.pem' | 8: source.0.ca-file = \"ca.pem\": "
                        + "there is no readable file /srv/bankfire/ca.pem"
            })
    void aDoubtIsTold(String source, String expected) throws IOException, ConfigException {
        assertThat(read(source.replace('~', '\n')).warnings())
                .extracting(ConfigProblem::text)
                .containsExactly("shed.toml:" + expected);
    }

    @Test
    void aPasswordOverAnOpenLineIsDoubted(@TempDir Path folder) throws IOException, ConfigException {
        Path file = Files.writeString(folder.resolve("password"), "hunter2\n");
        CheckedConfig checked =
                read("kind = \"mqtt\"\nbroker = \"tcp://b\"\ntopics = [\"a\"]\nuser = \"u\"\npassword-file = '" + file
                        + "'\n");
        assertThat(checked.warnings()).singleElement().satisfies(warning -> {
            assertThat(warning.key()).isEqualTo("source.0.password-file");
            assertThat(warning.allowed()).isEqualTo("the password travels readable over tcp://; ssl:// would hide it");
        });
        assertThat(ConfigPrinter.print(checked.config()))
                .contains(file.toString())
                .doesNotContain("hunter2");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "broker = 'tcp://b'~password = 'hunter2'",
                "broker = 'tcp://b'~Password = 'hunter2'",
                "broker = 'tcp://b'~pasword-file = 'p'~passwd = 'hunter2'",
                "broker = 'tcp://u:hunter2@b'",
                "broker = 'mqtt://u:hunter2@b'",
                "broker = 'tcp://b'~api-token = 'hunter2'",
                "broker = 'tcp://b'~password = hunter2",
                "broker = 'tcp://b'~password = 'hunter2",
                "broker = 'tcp://b'~password = '''~hunter2",
                "broker = 'tcp://b'~password = 'x'~password = 'hunter2'",
                "broker = 'tcp://b'~password = ['hunter2', {password = 'hunter2'}]"
            })
    void aSecretInTheFileIsNeverInAMessage(String source) {
        ConfigException exception = catchThrowableOfType(
                ConfigException.class,
                () -> read("kind = 'mqtt'\ntopics = ['a']\n" + source.replace('~', '\n') + "\n"));
        assertThat(exception).isNotNull();
        assertThat(exception.problems()).isNotEmpty();
        assertThat(exception.problems().toString() + exception.getMessage()).doesNotContain("hunter2");
    }

    /** {@code shed.toml} with another source, whose {@code kind} stands in line 5. */
    private static CheckedConfig read(String source) throws IOException, ConfigException {
        String shed = Examples.text("shed.toml");
        String text = shed.replaceFirst("(?s)kind = .*?\n\n", "")
                .replace("[[source]]\n", "[[source]]\n" + source.replace("\\", "\\\\") + "\n");
        return ConfigReader.read(text, "shed.toml", Examples.FOLDER);
    }
}
