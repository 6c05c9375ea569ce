package org.bankfire.daemon.config;

import jakarta.mail.internet.AddressException;
import jakarta.mail.internet.InternetAddress;
import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.config.OutputConfig.Security;
import org.bankfire.daemon.config.OutputConfig.Telling;
import org.jspecify.annotations.Nullable;

/** Reads the {@code [[output]]} tables. */
final class OutputsReader {
    static final Map<String, Priority> PRIORITIES = Section.words(
            Map.entry("critical", Priority.CRITICAL),
            Map.entry("high", Priority.HIGH),
            Map.entry("medium", Priority.MEDIUM),
            Map.entry("low", Priority.LOW));
    static final Map<String, Security> SECURITIES = Section.words(
            Map.entry("starttls", Security.STARTTLS), Map.entry("tls", Security.TLS), Map.entry("none", Security.NONE));

    private static final String DEFAULT_CLIENT_ID = "bankfire-out";
    private static final String DEFAULT_PREFIX = "bankfire";
    /** Above this the topics of a forge with the longest id would not fit what brokers usually take. */
    private static final int MAX_PREFIX_LENGTH = 128;

    private static final Range HEARTBEAT_S = new Range(1, 3600);
    private static final double DEFAULT_HEARTBEAT_S = 10;
    private static final Range GIVE_UP_S = new Range(1, 7.0 * 86_400);
    /** An hour later nobody can still do anything about an alarm that was not critical. */
    private static final double DEFAULT_GIVE_UP_S = 3_600;
    /** Over a night and the morning after it, somebody should learn that there was gas without a flame. */
    private static final double DEFAULT_GIVE_UP_CRITICAL_S = 86_400;

    private static final Range TIMEOUT_S = new Range(0.1, 300);
    private static final double DEFAULT_TIMEOUT_S = 10;
    private static final int MAX_PORT = 65_535;
    private static final int STARTTLS_PORT = 587;
    private static final int TLS_PORT = 465;
    private static final int OPEN_PORT = 25;
    /** A mail to more people than this is a mailing list's work. */
    private static final int MOST_RECIPIENTS = 50;

    private static final String NAME_ALLOWED = "1 to 64 letters, digits, '-', '.' and '_'";
    private static final String URL_ALLOWED =
            "http://HOST… or https://HOST…, without a user, as in \"https://host.example/alarms\"";
    private static final String TO_ALLOWED =
            "a list of 1 to " + MOST_RECIPIENTS + " addresses, as in [\"smith@shed.example\"]";
    private static final String FLAG_ALLOWED = "true or false";

    private final List<String> forges;
    private final Path baseDir;
    private final BrokerReader brokers;
    private final Map<String, Place> names = new HashMap<>();

    /**
     * A reader for all outputs of a file.
     *
     * @param forges ids of the configured forges
     * @param brokers that has read the sources: their client ids are taken
     */
    OutputsReader(List<String> forges, Path baseDir, BrokerReader brokers) {
        this.forges = List.copyOf(forges);
        this.baseDir = baseDir;
        this.brokers = brokers;
    }

    List<OutputConfig> read(List<Section> sections) {
        List<OutputConfig> outputs = new ArrayList<>();
        for (Section section : sections) {
            String kind = section.requiredChoice(
                    "kind",
                    Section.words(
                            Map.entry("mqtt", "mqtt"),
                            Map.entry("webhook", "webhook"),
                            Map.entry("mail", "mail"),
                            Map.entry("command", "command")),
                    "");
            if (kind.isEmpty()) {
                continue;
            }
            // What listens to a broker is a program, which counts; the others reach people, who are not to be worn out.
            boolean program = kind.equals("mqtt");
            Telling telling = telling(section, kind, program ? Priority.LOW : Priority.HIGH, program);
            OutputConfig output = switch (kind) {
                case "mqtt" -> mqtt(section, telling);
                case "webhook" -> webhook(section, telling);
                case "mail" -> mail(section, telling);
                default -> command(section, telling);
            };
            section.refuseOthers();
            if (output != null) {
                outputs.add(output);
            }
        }
        return outputs;
    }

    private Telling telling(Section section, String kind, Priority usualPriority, boolean usuallyAll) {
        String name = section.text("name", NAME_ALLOWED, kind);
        if (!name.matches("[A-Za-z0-9._-]{1,64}")) {
            section.refuse("name", NAME_ALLOWED);
        }
        section.refuseTwice(names, name, section.has("name") ? "name" : "kind", "each output has a name of its own");
        Priority least = section.choice("least-priority", PRIORITIES, usualPriority);
        String allowed = "a list of forges, of " + String.join(", ", forges);
        List<String> only = section.texts("forges", allowed);
        for (String forge : only) {
            if (!forges.contains(forge)) {
                section.refuse("forges", allowed, NearestName.among(forge, forges));
            }
        }
        boolean returns = section.flag("tell-returns", FLAG_ALLOWED, usuallyAll);
        boolean acknowledgements = section.flag("tell-acknowledgements", FLAG_ALLOWED, usuallyAll);
        double giveUpS = section.quantity("give-up", Dimension.DURATION, GIVE_UP_S, "1 h", DEFAULT_GIVE_UP_S);
        double criticalS =
                section.quantity("give-up-critical", Dimension.DURATION, GIVE_UP_S, "24 h", DEFAULT_GIVE_UP_CRITICAL_S);
        if (criticalS < giveUpS) {
            section.refuse(
                    section.has("give-up-critical") ? "give-up-critical" : "give-up",
                    "critical alarms are tried at least as long as others");
        }
        return new Telling(name, least, only, returns, acknowledgements, giveUpS, criticalS);
    }

    private @Nullable OutputConfig mqtt(Section section, Telling telling) {
        BrokerReader.Broker broker = brokers.read(section, DEFAULT_CLIENT_ID);
        String prefix = section.text("prefix", "a topic without + and #", DEFAULT_PREFIX);
        BrokerReader.checkTopic(prefix, false, section, "prefix");
        if (prefix.length() > MAX_PREFIX_LENGTH || prefix.startsWith("$") || prefix.endsWith("/")) {
            section.refuse("prefix", "up to " + MAX_PREFIX_LENGTH + " characters, no $ in front and no / behind");
        }
        double heartbeatS = section.quantity("heartbeat", Dimension.DURATION, HEARTBEAT_S, "10 s", DEFAULT_HEARTBEAT_S);
        return section.build(() -> new OutputConfig.Mqtt(
                telling,
                new MqttSettings(
                        broker.uri(),
                        broker.clientId(),
                        List.of(),
                        broker.user(),
                        broker.passwordFile(),
                        broker.caFile(),
                        prefix + "/daemon/status"),
                prefix,
                heartbeatS));
    }

    private @Nullable OutputConfig webhook(Section section, Telling telling) {
        URI url = url(section);
        Path urlFile = file(section, "url-file", "path of a file with the address in its first line");
        if (section.has("url") == section.has("url-file")) {
            if (section.has("url")) {
                section.refuse("url-file", "either url or url-file");
            } else {
                section.missing("url", URL_ALLOWED + "; or url-file, for an address that is a secret");
            }
        }
        Path tokenFile = file(section, "token-file", "path of a file with the token in its first line");
        Path headersFile = file(section, "headers-file", "path of a file of lines Name: value");
        Path caFile = file(section, "ca-file", "path of a file with PEM certificates");
        boolean open = url != null && "http".equals(url.getScheme());
        if (open && caFile != null) {
            section.refuse("ca-file", "certificates are used with https:// only");
        }
        if (open && tokenFile != null) {
            section.doubt("token-file", "the token travels readable over http://; https:// would hide it", "");
        }
        return section.build(() -> new OutputConfig.Webhook(telling, url, urlFile, tokenFile, headersFile, caFile));
    }

    private static @Nullable URI url(Section section) {
        String text = section.text("url", URL_ALLOWED);
        if (text == null) {
            return null;
        }
        try {
            URI url = new URI(text);
            if (("http".equals(url.getScheme()) || "https".equals(url.getScheme()))
                    && url.getHost() != null
                    && url.getUserInfo() == null
                    && url.getPort() != 0
                    && url.getPort() <= MAX_PORT) {
                return url;
            }
        } catch (URISyntaxException e) {
            // Told below, with what is allowed.
        }
        section.refuse("url", URL_ALLOWED);
        return null;
    }

    private @Nullable OutputConfig mail(Section section, Telling telling) {
        String host = section.requiredText("host", "the mail server, as in \"mail.shed.example\"");
        if (!host.isEmpty() && !host.matches("[A-Za-z0-9.:_-]{1,253}")) {
            section.refuse("host", "name or address of the mail server, as in \"mail.shed.example\"");
        }
        Security security = section.choice("security", SECURITIES, Security.STARTTLS);
        int usualPort = switch (security) {
            case STARTTLS -> STARTTLS_PORT;
            case TLS -> TLS_PORT;
            case NONE -> OPEN_PORT;
        };
        int port = (int) section.integer("port", 1, MAX_PORT, usualPort);
        String user = section.text("user", "name that the mail server knows");
        Path passwordFile = file(section, "password-file", "path of a file");
        if ((user == null) != (passwordFile == null)) {
            section.refuse(
                    user == null ? "password-file" : "user",
                    "a user and a password-file beside each other, or neither");
        }
        if (security == Security.NONE && passwordFile != null) {
            section.doubt("password-file", "the password travels readable with security = \"none\"", "");
        }
        String from = section.requiredText("from", "the sender's address, as in \"bankfire@shed.example\"");
        checkAddress(section, "from", from);
        List<String> to = section.texts("to", TO_ALLOWED);
        if (!section.has("to")) {
            section.missing("to", TO_ALLOWED);
        } else if (to.isEmpty() || to.size() > MOST_RECIPIENTS) {
            section.refuse("to", TO_ALLOWED);
        }
        to.forEach(address -> checkAddress(section, "to", address));
        Path caFile = file(section, "ca-file", "path of a file with PEM certificates");
        if (security == Security.NONE && caFile != null) {
            section.refuse("ca-file", "certificates are used with security = \"starttls\" or \"tls\" only");
        }
        return section.build(
                () -> new OutputConfig.Mail(telling, host, port, security, user, passwordFile, from, to, caFile));
    }

    private static void checkAddress(Section section, String key, String address) {
        if (address.isEmpty()) {
            return;
        }
        try {
            new InternetAddress(address, true).validate();
        } catch (AddressException e) {
            section.refuse(key, "\"" + address + "\" is not a mail address: " + e.getMessage());
        }
    }

    private @Nullable OutputConfig command(Section section, Telling telling) {
        String allowed = "path of a program, or a name that is looked for in PATH; no shell is in between";
        String program = section.requiredText("program", allowed);
        if (program.contains("/") || program.contains("\\")) {
            Path path = Paths.resolve(section, "program", program, allowed, baseDir);
            if (path != null) {
                program = path.toString();
                if (!Files.isExecutable(path)) {
                    section.doubt("program", "there is no program " + path + " that may be run", "");
                }
            }
        }
        List<String> arguments = section.texts("arguments", "a list of texts, as in [\"--loud\"]");
        double timeoutS = section.quantity("timeout", Dimension.DURATION, TIMEOUT_S, "10 s", DEFAULT_TIMEOUT_S);
        String resolved = program;
        return section.build(() -> new OutputConfig.Command(telling, resolved, arguments, timeoutS));
    }

    private @Nullable Path file(Section section, String key, String allowed) {
        Path path = Paths.read(section, key, allowed, baseDir);
        Paths.doubtIfAbsent(section, key, path);
        return path;
    }
}
