package org.bankfire.daemon.lifecycle;

import java.util.SplittableRandom;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.mqtt.MqttSource;
import org.bankfire.daemon.acquire.replay.ReplaySource;
import org.bankfire.daemon.acquire.serial.SerialSource;
import org.bankfire.daemon.acquire.virtual.VirtualSource;
import org.bankfire.daemon.config.SourceConfig;

/** Makes the source that a configuration asks for. */
final class SourceFactory {
    private SourceFactory() {}

    static Source create(SourceConfig config, ReceiptClock clock) {
        if (config instanceof SourceConfig.Serial serial) {
            return new SerialSource(
                    serial.settings(), FrameDecoders.ofLines(serial.settings().format()), clock);
        }
        if (config instanceof SourceConfig.Mqtt mqtt) {
            return new MqttSource(mqtt.settings(), FrameDecoders::of, clock, new SplittableRandom());
        }
        if (config instanceof SourceConfig.Replay replay) {
            return new ReplaySource(replay.settings());
        }
        SourceConfig.Virtual virtual = (SourceConfig.Virtual) config;
        return new VirtualSource(
                virtual.settings(),
                FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null)),
                clock::stamp);
    }
}
