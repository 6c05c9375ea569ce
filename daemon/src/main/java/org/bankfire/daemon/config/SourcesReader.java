package org.bankfire.daemon.config;

import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.acquire.replay.ReplaySettings;
import org.bankfire.daemon.acquire.serial.SerialSettings;
import org.bankfire.daemon.acquire.virtual.VirtualSettings;
import org.eclipse.paho.client.mqttv3.MqttTopic;
import org.jspecify.annotations.Nullable;

/** Reads the {@code [[source]]} tables. */
final class SourcesReader {
    private static final int LOWEST_BAUD = 300;
    private static final int HIGHEST_BAUD = 4_000_000;
    private static final int DEFAULT_BAUD = 115_200;
    private static final String DEFAULT_CLIENT_ID = "bankfire";
    private static final int MAX_CLIENT_ID_LENGTH = 64;
    private static final int TCP_PORT = 1883;
    private static final int TLS_PORT = 8883;
    private static final int MAX_PORT = 65_535;
    private static final Range VIRTUAL_SPEED = new Range(0.1, 1000);
    private static final Range VIRTUAL_RATE_HZ = new Range(0.1, 50);
    private static final double DEFAULT_RATE_HZ = 4;
    private static final Range REPLAY_SPEED = new Range(0.01, 1e6);
    private static final String BROKER_ALLOWED =
            "tcp://HOST:PORT or ssl://HOST:PORT, without a user, as in \"tcp://localhost:1883\"";
    private static final String FILES_ALLOWED = "a list of one or more files, as in [\"burns/first.ndjson\"]";

    private final List<String> forges;
    private final Path baseDir;
    private final FormatReader formats;
    private final Map<String, Place> clients = new HashMap<>();
    private final Map<String, Place> ports = new HashMap<>();

    /**
     * A reader for all sources of a file.
     *
     * @param forges ids of the configured forges
     */
    SourcesReader(List<String> forges, Path baseDir, Problems problems) {
        this.forges = List.copyOf(forges);
        this.baseDir = baseDir;
        this.formats = new FormatReader(this.forges, problems);
    }

    List<SourceConfig> read(List<Section> sections) {
        List<SourceConfig> sources = new ArrayList<>();
        for (Section section : sections) {
            String kind = section.requiredChoice(
                    "kind",
                    Section.words(
                            Map.entry("serial", "serial"),
                            Map.entry("mqtt", "mqtt"),
                            Map.entry("replay", "replay"),
                            Map.entry("virtual", "virtual")),
                    "");
            SourceConfig source = switch (kind) {
                case "serial" -> serial(section);
                case "mqtt" -> mqtt(section);
                case "replay" -> replay(section);
                case "virtual" -> virtual(section);
                default -> null;
            };
            if (!kind.isEmpty()) {
                section.refuseOthers();
            }
            if (source != null) {
                sources.add(source);
            }
        }
        return sources;
    }

    private @Nullable SourceConfig serial(Section section) {
        String port = section.requiredText("port", "path or name of a serial port, as in \"/dev/ttyUSB0\" or \"COM3\"");
        int baud = (int) section.integer("baud", LOWEST_BAUD, HIGHEST_BAUD, DEFAULT_BAUD);
        var format = formats.read(section, formats.checksum(section));
        refuseTwice(ports, port, section, "port", "each port is read once");
        return format == null
                ? null
                : section.build(() -> new SourceConfig.Serial(new SerialSettings(port, baud, format)));
    }

    private @Nullable SourceConfig mqtt(Section section) {
        String broker = broker(section);
        String clientId = section.text("client-id", "1 to 64 characters", DEFAULT_CLIENT_ID);
        if (clientId.length() > MAX_CLIENT_ID_LENGTH) {
            section.refuse("client-id", "1 to 64 characters");
        }
        refuseTwice(
                clients,
                broker + " " + clientId,
                section,
                section.has("client-id") ? "client-id" : "broker",
                "two connections to one broker need different client-ids, or they throw each other out");
        List<MqttSettings.Topic> topics = topics(section);
        String user = section.text("user", "name that the broker knows");
        Path passwordFile = Paths.read(section, "password-file", "path of a file", baseDir);
        Paths.doubtIfAbsent(section, "password-file", passwordFile);
        if (passwordFile != null && user == null) {
            section.refuse("password-file", "a password needs a user beside it");
        }
        Path caFile = Paths.read(section, "ca-file", "path of a file with PEM certificates", baseDir);
        Paths.doubtIfAbsent(section, "ca-file", caFile);
        if (caFile != null && broker.startsWith("tcp:")) {
            section.refuse("ca-file", "certificates are used with ssl:// only");
        }
        if (passwordFile != null && broker.startsWith("tcp:")) {
            section.doubt("password-file", "the password travels readable over tcp://; ssl:// would hide it", "");
        }
        String status = section.text("status-topic", "a topic without + and #", "bankfire/" + clientId + "/status");
        checkTopic(status, false, section, section.has("status-topic") ? "status-topic" : "client-id");
        return section.build(() ->
                new SourceConfig.Mqtt(new MqttSettings(broker, clientId, topics, user, passwordFile, caFile, status)));
    }

    private List<MqttSettings.Topic> topics(Section section) {
        List<MqttSettings.Topic> topics = new ArrayList<>();
        String allowed = "a list of topics, as in [\"forges/#\"]";
        if (section.has("topics")) {
            List<String> filters = section.texts("topics", allowed);
            var format = formats.read(section, FormatReader.NO_CHECKSUM);
            for (String filter : filters) {
                checkTopic(filter, true, section, "topics");
                if (format != null) {
                    topics.add(new MqttSettings.Topic(filter, format));
                }
            }
            if (filters.isEmpty()) {
                section.refuse("topics", allowed);
            }
        }
        List<Section> tables = section.tables("topic");
        for (Section table : tables) {
            String filter = table.requiredText("filter", "a topic, + and # allowed, as in \"forges/+/readings\"");
            checkTopic(filter, true, table, "filter");
            var format = formats.read(table, FormatReader.NO_CHECKSUM);
            table.refuseOthers();
            if (format != null) {
                topics.add(new MqttSettings.Topic(filter, format));
            }
        }
        if (tables.isEmpty() && !section.has("topics")) {
            section.missing("topics", allowed + "; or [[source.topic]] tables with a filter each");
        }
        return topics;
    }

    private static void checkTopic(String topic, boolean wildcards, Section section, String key) {
        if (topic.isEmpty()) {
            return;
        }
        try {
            MqttTopic.validate(topic, wildcards);
        } catch (IllegalArgumentException | IllegalStateException e) {
            section.refuse(
                    key,
                    "\"" + topic + "\" is not a topic; allowed: up to 65535 bytes, "
                            + (wildcards ? "+ alone in a level, # alone in the last" : "without + and #"));
        }
    }

    /** The broker's address with its port, or an empty text after a problem. */
    private static String broker(Section section) {
        String text = section.requiredText("broker", BROKER_ALLOWED);
        if (text.isEmpty()) {
            return "";
        }
        try {
            URI uri = new URI(text);
            String scheme = uri.getScheme();
            boolean tls = "ssl".equals(scheme);
            String path = uri.getPath();
            if ((tls || "tcp".equals(scheme))
                    && uri.getHost() != null
                    && uri.getUserInfo() == null
                    && (path == null || path.isEmpty())
                    && uri.getQuery() == null
                    && uri.getFragment() == null
                    && uri.getPort() != 0
                    && uri.getPort() <= MAX_PORT) {
                int port = uri.getPort() > 0 ? uri.getPort() : tls ? TLS_PORT : TCP_PORT;
                return scheme + "://" + uri.getHost() + ":" + port;
            }
            section.refuse("broker", BROKER_ALLOWED, nearestScheme(scheme));
        } catch (URISyntaxException e) {
            section.refuse("broker", BROKER_ALLOWED);
        }
        return "";
    }

    private static String nearestScheme(@Nullable String scheme) {
        if (scheme == null) {
            return "";
        }
        return switch (scheme) {
            case "mqtt" -> "tcp://";
            case "mqtts", "tls" -> "ssl://";
            default -> "";
        };
    }

    private @Nullable SourceConfig replay(Section section) {
        List<Path> files = new ArrayList<>();
        if (!section.has("files")) {
            section.missing("files", FILES_ALLOWED);
        } else {
            List<String> names = section.texts("files", FILES_ALLOWED);
            for (String name : names) {
                Path file = Paths.resolve(section, "files", name, FILES_ALLOWED, baseDir);
                Paths.doubtIfAbsent(section, "files", file);
                if (file != null) {
                    files.add(file);
                }
            }
            if (names.isEmpty()) {
                section.refuse("files", FILES_ALLOWED);
            }
        }
        double speed = section.node("speed") instanceof Node.Scalar word
                        && word.value().equals("full")
                ? Double.POSITIVE_INFINITY
                : section.quantity("speed", Dimension.RATIO, REPLAY_SPEED, "1", 1);
        return section.build(() -> new SourceConfig.Replay(new ReplaySettings(files, speed)));
    }

    private @Nullable SourceConfig virtual(Section section) {
        String forge = formats.forge(section);
        if (forge == null) {
            section.missing("forge", "id of the forge that it plays, one of " + String.join(", ", forges));
        }
        double speed = section.quantity("speed", Dimension.RATIO, VIRTUAL_SPEED, "1", 1);
        double rateHz = section.quantity("rate", Dimension.FREQUENCY, VIRTUAL_RATE_HZ, "4 Hz", DEFAULT_RATE_HZ);
        long seed = section.integer("seed", 0, Long.MAX_VALUE, 1);
        return section.build(
                () -> new SourceConfig.Virtual(new VirtualSettings(forge == null ? "" : forge, speed, rateHz, seed)));
    }

    private static void refuseTwice(Map<String, Place> seen, String what, Section section, String key, String why) {
        Place first = what.isBlank() ? null : seen.putIfAbsent(what, section.placeOf(key));
        if (first != null) {
            section.refuse(key, why + "; this one stands in line " + first.line() + " already");
        }
    }
}
