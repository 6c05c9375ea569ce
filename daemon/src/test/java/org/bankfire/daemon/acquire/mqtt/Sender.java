package org.bankfire.daemon.acquire.mqtt;

import java.nio.charset.StandardCharsets;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** A sensor's side: publishes at QoS 1 and tries again until the broker has it. */
final class Sender implements AutoCloseable {
    private static final long RETRY_MS = 50;
    private static final long GIVE_UP_S = 120;
    /** A slow broker's word is waited for: a message that is sent again comes twice. One that is gone is noticed at once. */
    private static final int WORD_S = 30;

    private final String uri;
    private final String id;
    private MqttClient client;

    Sender(String uri, String id) throws MqttException {
        this.uri = uri;
        this.id = id;
        this.client = connected();
    }

    /** Publishes {@code text} and waits until the broker has acknowledged it. */
    void send(String topic, String text) {
        send(topic, text.getBytes(StandardCharsets.UTF_8), 1, false);
    }

    void send(String topic, byte[] payload, int qos, boolean retained) {
        long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(GIVE_UP_S);
        while (System.nanoTime() < end) {
            try {
                if (!client.isConnected()) {
                    client.close(true);
                    client = connected();
                }
                MqttMessage message = new MqttMessage(payload);
                message.setQos(qos);
                message.setRetained(retained);
                client.publish(topic, message);
                return;
            } catch (MqttException e) {
                LockSupport.parkNanos(TimeUnit.MILLISECONDS.toNanos(RETRY_MS)); // as a sensor would: the broker is away
            }
        }
        throw new AssertionError("the broker stayed away for " + GIVE_UP_S + " s");
    }

    @Override
    public void close() throws MqttException {
        client.disconnectForcibly(100, 100, true);
        client.close(true);
    }

    private MqttClient connected() throws MqttException {
        MqttClient made = new MqttClient(uri, id, new MemoryPersistence());
        made.setTimeToWait(1_000L * WORD_S);
        MqttConnectOptions options = new MqttConnectOptions();
        options.setCleanSession(true);
        options.setConnectionTimeout(WORD_S);
        try {
            made.connect(options);
        } catch (MqttException e) {
            made.close(true);
            throw e;
        }
        return made;
    }
}
