package org.bankfire.daemon.config;

import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.acquire.replay.ReplaySettings;
import org.bankfire.daemon.acquire.serial.SerialSettings;
import org.bankfire.daemon.acquire.virtual.VirtualSettings;

/** Where readings come from: one {@code [[source]]}. */
public sealed interface SourceConfig {
    /** {@code kind = "serial"}. */
    record Serial(SerialSettings settings) implements SourceConfig {}

    /** {@code kind = "mqtt"}. */
    record Mqtt(MqttSettings settings) implements SourceConfig {}

    /** {@code kind = "replay"}. */
    record Replay(ReplaySettings settings) implements SourceConfig {}

    /** {@code kind = "virtual"}. */
    record Virtual(VirtualSettings settings) implements SourceConfig {}
}
