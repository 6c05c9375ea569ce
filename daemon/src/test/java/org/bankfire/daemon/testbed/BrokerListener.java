package org.bankfire.daemon.testbed;

import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** Hears everything under a topic, in a session that the broker keeps. */
public final class BrokerListener implements AutoCloseable {
    /**
     * One message.
     *
     * @param retained whether it is what the broker remembered from before
     */
    public record Heard(String topic, String text, boolean retained, int qos, long nanos) {}

    private static final Duration NOTICED = Duration.ofSeconds(60);

    private final MqttClient client;
    private final String filter;
    private final List<Heard> heard = new CopyOnWriteArrayList<>();

    /** Connects and subscribes. */
    public BrokerListener(String uri, String name, String filter) throws MqttException {
        this.client = new MqttClient(uri, name, new MemoryPersistence());
        this.filter = filter;
        client.setCallback(new MqttCallback() {
            @Override
            public void connectionLost(Throwable cause) {
                // the test connects again
            }

            @Override
            public void messageArrived(String topic, MqttMessage message) {
                heard.add(new Heard(
                        topic,
                        new String(message.getPayload(), StandardCharsets.UTF_8),
                        message.isRetained(),
                        message.getQos(),
                        System.nanoTime()));
            }

            @Override
            public void deliveryComplete(IMqttDeliveryToken token) {
                // it publishes nothing
            }
        });
        connect();
    }

    /** Connects again after the broker was away; what it kept for us comes. */
    public void connect() throws MqttException {
        // The client may not have noticed yet that the broker went.
        await().atMost(NOTICED).until(() -> !client.isConnected());
        MqttConnectOptions options = new MqttConnectOptions();
        options.setCleanSession(false);
        options.setConnectionTimeout(60);
        client.connect(options);
        client.subscribe(filter, 1);
    }

    /** What was heard on one topic, in order. */
    public List<Heard> on(String topic) {
        return heard.stream().filter(message -> message.topic().equals(topic)).toList();
    }

    /** The latest text on one topic. */
    public Optional<String> latest(String topic) {
        List<Heard> all = on(topic);
        return all.isEmpty()
                ? Optional.empty()
                : Optional.of(all.get(all.size() - 1).text());
    }

    @Override
    public void close() throws MqttException {
        if (client.isConnected()) {
            client.disconnect();
        }
        client.close();
    }
}
