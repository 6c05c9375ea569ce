package org.bankfire.daemon.testbed;

import java.io.IOException;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/** Lines as QoS 1 messages: sent means that the broker acknowledged it. */
final class BrokerSink implements LineSink {
    private static final long ACKNOWLEDGE_MS = TimeUnit.SECONDS.toMillis(5);

    private final MqttClient client;
    private final String topic;

    BrokerSink(String uri, String topic) throws MqttException {
        client = new MqttClient(uri, "virtual-forge-" + ProcessHandle.current().pid(), new MemoryPersistence());
        client.setTimeToWait(ACKNOWLEDGE_MS);
        this.topic = topic;
    }

    @Override
    public void send(byte[] line) throws IOException {
        try {
            if (!client.isConnected()) {
                MqttConnectOptions options = new MqttConnectOptions();
                options.setCleanSession(true);
                options.setConnectionTimeout(3);
                client.connect(options);
            }
            MqttMessage message = new MqttMessage(line);
            message.setQos(1);
            client.publish(topic, message);
        } catch (MqttException e) {
            throw new IOException("broker " + client.getServerURI(), e);
        }
    }

    @Override
    public void close() throws IOException {
        try {
            if (client.isConnected()) {
                client.disconnect();
            }
            client.close();
        } catch (MqttException e) {
            throw new IOException("broker " + client.getServerURI(), e);
        }
    }
}
