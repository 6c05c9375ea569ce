package org.bankfire.daemon.config;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.acquire.replay.ReplaySettings;
import org.bankfire.daemon.acquire.serial.SerialSettings;
import org.bankfire.daemon.acquire.virtual.VirtualSettings;
import org.jspecify.annotations.Nullable;

/** Reads the {@code [[source]]} tables. */
final class SourcesReader {
    private static final int LOWEST_BAUD = 300;
    private static final int HIGHEST_BAUD = 4_000_000;
    private static final int DEFAULT_BAUD = 115_200;
    private static final String DEFAULT_CLIENT_ID = "bankfire";
    private static final Range VIRTUAL_SPEED = new Range(0.1, 1000);
    private static final Range VIRTUAL_RATE_HZ = new Range(0.1, 50);
    private static final double DEFAULT_RATE_HZ = 4;
    private static final Range REPLAY_SPEED = new Range(0.01, 1e6);
    private static final String FILES_ALLOWED = "a list of one or more files, as in [\"burns/first.ndjson\"]";

    /** Words for what a broker deals out. */
    static final Map<String, MqttSettings.By> SHARE_BY =
            Section.words(Map.entry("message", MqttSettings.By.MESSAGE), Map.entry("topic", MqttSettings.By.TOPIC));

    private static final Pattern SHARE_NAME = Pattern.compile("[A-Za-z0-9._-]{1,64}");

    private final List<String> forges;
    private final Path baseDir;
    private final BrokerReader brokers;
    private final FormatReader formats;
    private final Map<String, Place> ports = new HashMap<>();
    private final List<Section> dealtByMessage = new ArrayList<>();

    /**
     * A reader for all sources of a file.
     *
     * @param forges ids of the configured forges
     */
    SourcesReader(List<String> forges, Path baseDir, BrokerReader brokers, Problems problems) {
        this.forges = List.copyOf(forges);
        this.baseDir = baseDir;
        this.brokers = brokers;
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
        if (!sources.isEmpty() && dealtByMessage.size() == sources.size()) {
            dealtByMessage.forEach(
                    section -> refuseDealt(section, "no other source brings the forges of this configuration"));
        }
        return sources;
    }

    /** Dealt out by message, each daemon would see a part of a forge only, and be blind to its flame. */
    private static void refuseDealt(Section section, String why) {
        section.refuse(
                section.has("share-by") ? "share-by" : "share",
                why + ", and one whose messages are dealt out among several daemons cannot be watched by any of them;"
                        + " allowed: share-by = \"topic\" where the broker keeps each topic with one daemon, or no"
                        + " share. share-by = \"message\" is for keeping forges that have no [[forge]] here");
    }

    private @Nullable SourceConfig serial(Section section) {
        String port = section.requiredText("port", "path or name of a serial port, as in \"/dev/ttyUSB0\" or \"COM3\"");
        int baud = (int) section.integer("baud", LOWEST_BAUD, HIGHEST_BAUD, DEFAULT_BAUD);
        var format = formats.read(section, formats.checksum(section));
        section.refuseTwice(ports, port, "port", "each port is read once");
        return format == null
                ? null
                : section.build(() -> new SourceConfig.Serial(new SerialSettings(port, baud, format)));
    }

    private @Nullable SourceConfig mqtt(Section section) {
        BrokerReader.Broker broker = brokers.read(section, DEFAULT_CLIENT_ID);
        MqttSettings.Share share = share(section);
        boolean dealt = share != null && share.by() == MqttSettings.By.MESSAGE;
        List<MqttSettings.Topic> topics = topics(section, dealt);
        if (dealt) {
            Optional<String> watched = topics.stream()
                    .flatMap(topic -> forgeOf(topic.format()).stream())
                    .filter(forges::contains)
                    .findFirst();
            if (watched.isPresent()) {
                refuseDealt(section, "this source brings the forge \"" + watched.get() + "\"");
            } else {
                dealtByMessage.add(section);
            }
        }
        String status =
                section.text("status-topic", "a topic without + and #", "bankfire/" + broker.clientId() + "/status");
        BrokerReader.checkTopic(status, false, section, section.has("status-topic") ? "status-topic" : "client-id");
        return section.build(() -> new SourceConfig.Mqtt(new MqttSettings(
                broker.uri(),
                broker.clientId(),
                topics,
                broker.user(),
                broker.passwordFile(),
                broker.caFile(),
                status,
                share)));
    }

    private static MqttSettings.@Nullable Share share(Section section) {
        String allowed = "1 to 64 letters, digits, '.', '_' and '-', the same in each daemon that shares";
        String name = section.text("share", allowed);
        MqttSettings.By by = section.choice("share-by", SHARE_BY, MqttSettings.By.MESSAGE);
        if (name == null) {
            if (section.has("share-by")) {
                section.refuse("share-by", "it needs share = \"NAME\" beside it");
            }
            return null;
        }
        if (!SHARE_NAME.matcher(name).matches()) {
            section.refuse("share", allowed);
        }
        return new MqttSettings.Share(name, by);
    }

    private static Optional<String> forgeOf(FrameFormat format) {
        return format instanceof FrameFormat.Columns columns
                ? Optional.of(columns.forge())
                : Optional.ofNullable(((FrameFormat.SenMl) format).defaultForge());
    }

    /** Records that name no forge are not taken for the only one's where each daemon gets a part of them. */
    private static FrameFormat named(Section where, FrameFormat format, boolean dealt) {
        return dealt && format instanceof FrameFormat.SenMl senml && !where.has("forge")
                ? new FrameFormat.SenMl(senml.checksum(), null)
                : format;
    }

    private static void checkFilter(String filter, Section section, String key) {
        BrokerReader.checkTopic(filter, true, section, key);
        if (filter.startsWith(MqttSettings.SHARED)) {
            section.refuse(
                    key,
                    "a topic without " + MqttSettings.SHARED + "NAME/ before it; write share = \"NAME\" in the source");
        }
    }

    private List<MqttSettings.Topic> topics(Section section, boolean dealt) {
        List<MqttSettings.Topic> topics = new ArrayList<>();
        String allowed = "a list of topics, as in [\"forges/#\"]";
        if (section.has("topics")) {
            List<String> filters = section.texts("topics", allowed);
            var format = formats.read(section, FormatReader.NO_CHECKSUM);
            for (String filter : filters) {
                checkFilter(filter, section, "topics");
                if (format != null) {
                    topics.add(new MqttSettings.Topic(filter, named(section, format, dealt)));
                }
            }
            if (filters.isEmpty()) {
                section.refuse("topics", allowed);
            }
        }
        List<Section> tables = section.tables("topic");
        for (Section table : tables) {
            String filter = table.requiredText("filter", "a topic, + and # allowed, as in \"forges/+/readings\"");
            checkFilter(filter, table, "filter");
            var format = formats.read(table, FormatReader.NO_CHECKSUM);
            table.refuseOthers();
            if (format != null) {
                topics.add(new MqttSettings.Topic(filter, named(table, format, dealt)));
            }
        }
        if (tables.isEmpty() && !section.has("topics")) {
            section.missing("topics", allowed + "; or [[source.topic]] tables with a filter each");
        }
        return topics;
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
}
