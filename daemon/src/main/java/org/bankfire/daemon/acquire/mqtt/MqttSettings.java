package org.bankfire.daemon.acquire.mqtt;

import java.nio.file.Path;
import java.util.List;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.jspecify.annotations.Nullable;

/**
 * One connection to a broker.
 *
 * @param uri {@code tcp://host:1883} or {@code ssl://host:8883}
 * @param clientId 1 to 64 characters, the same after each restart: the broker keeps the session by it
 * @param topics what to subscribe to
 * @param user null for none
 * @param passwordFile its first line is the password; null for none
 * @param caFile PEM certificates to trust for TLS; null for those of the JVM
 * @param share with whom the messages are shared; null for nobody
 * @param statusTopic retained {@code online} or {@code offline}, the latter as last will
 */
public record MqttSettings(
        String uri,
        String clientId,
        List<Topic> topics,
        @Nullable String user,
        @Nullable Path passwordFile,
        @Nullable Path caFile,
        String statusTopic,
        @Nullable Share share) {
    public MqttSettings {
        topics = List.copyOf(topics);
    }

    /** A connection that shares with nobody. */
    public MqttSettings(
            String uri,
            String clientId,
            List<Topic> topics,
            @Nullable String user,
            @Nullable Path passwordFile,
            @Nullable Path caFile,
            String statusTopic) {
        this(uri, clientId, topics, user, passwordFile, caFile, statusTopic, null);
    }

    /** What the broker is asked for: the filter, and whom to share it with (MQTT 5.0, section 4.8.2). */
    String subscription(Topic topic) {
        return share == null ? topic.filter() : SHARED + share.name() + '/' + topic.filter();
    }

    /** How a subscription begins whose messages are dealt out among those who share it. */
    public static final String SHARED = "$share/";

    /**
     * Several daemons that take the messages of a broker in turn.
     *
     * @param name the same in each of them; without {@code /}, {@code +} and {@code #}
     * @param by what is dealt out
     */
    public record Share(String name, By by) {}

    /** What a broker deals out among those who share a subscription. */
    public enum By {
        /** Each message to the next one, as brokers commonly do: of a forge everybody gets a part. */
        MESSAGE,
        /** All messages of a topic to the same one; a promise of the broker's that MQTT does not ask for. */
        TOPIC
    }

    /**
     * A subscription.
     *
     * @param filter topic filter, {@code +} and {@code #} allowed
     * @param format how its messages are written
     */
    public record Topic(String filter, FrameFormat format) {}
}
