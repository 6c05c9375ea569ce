package org.bankfire.daemon.config;

import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import org.eclipse.paho.client.mqttv3.MqttTopic;
import org.jspecify.annotations.Nullable;

/** Reads how brokers are reached, by sources and outputs alike. */
final class BrokerReader {
    private static final int MAX_CLIENT_ID_LENGTH = 64;
    private static final int TCP_PORT = 1883;
    private static final int TLS_PORT = 8883;
    private static final int MAX_PORT = 65_535;
    private static final String ALLOWED =
            "tcp://HOST:PORT or ssl://HOST:PORT, without a user, as in \"tcp://localhost:1883\"";

    private final Path baseDir;
    private final Map<String, Place> clients = new HashMap<>();

    /**
     * A connection to a broker.
     *
     * @param uri with its port; empty after a problem
     */
    record Broker(
            String uri,
            String clientId,
            @Nullable String user,
            @Nullable Path passwordFile,
            @Nullable Path caFile) {}

    BrokerReader(Path baseDir) {
        this.baseDir = baseDir;
    }

    Broker read(Section section, String usualClientId) {
        String uri = uri(section);
        String clientId = section.text("client-id", "1 to 64 characters", usualClientId);
        if (clientId.length() > MAX_CLIENT_ID_LENGTH) {
            section.refuse("client-id", "1 to 64 characters");
        }
        section.refuseTwice(
                clients,
                uri + " " + clientId,
                section.has("client-id") ? "client-id" : "broker",
                "two connections to one broker need different client-ids, or they throw each other out");
        String user = section.text("user", "name that the broker knows");
        Path passwordFile = Paths.read(section, "password-file", "path of a file", baseDir);
        Paths.doubtIfAbsent(section, "password-file", passwordFile);
        if (passwordFile != null && user == null) {
            section.refuse("password-file", "a password needs a user beside it");
        }
        Path caFile = Paths.read(section, "ca-file", "path of a file with PEM certificates", baseDir);
        Paths.doubtIfAbsent(section, "ca-file", caFile);
        if (caFile != null && uri.startsWith("tcp:")) {
            section.refuse("ca-file", "certificates are used with ssl:// only");
        }
        if (passwordFile != null && uri.startsWith("tcp:")) {
            section.doubt("password-file", "the password travels readable over tcp://; ssl:// would hide it", "");
        }
        return new Broker(uri, clientId, user, passwordFile, caFile);
    }

    static void checkTopic(String topic, boolean wildcards, Section section, String key) {
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
    private static String uri(Section section) {
        String text = section.requiredText("broker", ALLOWED);
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
            section.refuse("broker", ALLOWED, nearestScheme(scheme));
        } catch (URISyntaxException e) {
            section.refuse("broker", ALLOWED);
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
}
