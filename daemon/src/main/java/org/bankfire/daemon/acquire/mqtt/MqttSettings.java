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
 * @param statusTopic retained {@code online} or {@code offline}, the latter as last will
 */
public record MqttSettings(
        String uri,
        String clientId,
        List<Topic> topics,
        @Nullable String user,
        @Nullable Path passwordFile,
        @Nullable Path caFile,
        String statusTopic) {
    public MqttSettings {
        topics = List.copyOf(topics);
    }

    /**
     * A subscription.
     *
     * @param filter topic filter, {@code +} and {@code #} allowed
     * @param format how its messages are written
     */
    public record Topic(String filter, FrameFormat format) {}
}
