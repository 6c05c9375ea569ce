package org.bankfire.daemon.notify;

import java.nio.charset.StandardCharsets;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.bankfire.daemon.acquire.mqtt.BrokerException;
import org.bankfire.daemon.acquire.mqtt.BrokerOptions;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.eclipse.paho.client.mqttv3.IMqttActionListener;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.jspecify.annotations.Nullable;

/**
 * One connection to a broker that publishes only, from its opening to its end. A publication returns when the broker has
 * acknowledged it; what it has not is the caller's to send again.
 */
final class MqttPublisher {
    static final String ONLINE = "online";
    static final String OFFLINE = "offline";
    static final String LOST = "lost";

    /** A broker that is well acknowledges in milliseconds. */
    private static final long ANSWER_MS = 8_000;

    private static final long CONNECT_MS = 1_000L * BrokerOptions.CONNECT_TIMEOUT_S + 2_000;
    private static final long FAREWELL_MS = 500;

    private final MqttSettings settings;
    private final MqttAsyncClient client;
    private final Runnable onEnd;
    private final CountDownLatch ended = new CountDownLatch(1);

    /**
     * A connection that is not open yet.
     *
     * @param onEnd told once when an open connection ends, on a thread that must not wait
     */
    MqttPublisher(MqttSettings settings, Runnable onEnd) throws BrokerException {
        this.settings = settings;
        this.onEnd = onEnd;
        try {
            this.client = new MqttAsyncClient(settings.uri(), settings.clientId(), new MemoryPersistence());
        } catch (MqttException e) {
            throw BrokerException.of(settings, e);
        }
    }

    /** Connects and says that we are online; the broker says {@code lost} when we vanish. */
    void open() throws BrokerException, InterruptedException {
        MqttConnectOptions options = BrokerOptions.of(settings);
        options.setCleanSession(true);
        options.setWill(settings.statusTopic(), LOST.getBytes(StandardCharsets.UTF_8), 1, true);
        client.setCallback(new Callback());
        await(listener -> client.connect(options, null, listener), CONNECT_MS);
        publish(settings.statusTopic(), ONLINE, true);
    }

    /** Publishes with QoS 1 and waits for the acknowledgement. */
    void publish(String topic, String text, boolean retained) throws BrokerException, InterruptedException {
        publish(topic, text, retained, ANSWER_MS);
    }

    private void publish(String topic, String text, boolean retained, long waitMs)
            throws BrokerException, InterruptedException {
        MqttMessage message = new MqttMessage(text.getBytes(StandardCharsets.UTF_8));
        message.setQos(1);
        message.setRetained(retained);
        await(listener -> client.publish(topic, message, null, listener), waitMs);
    }

    boolean hasEnded() {
        return ended.getCount() == 0;
    }

    /** Says that we are offline and leaves in order; takes about a second at most. */
    void leave() throws InterruptedException {
        try {
            if (client.isConnected()) {
                publish(settings.statusTopic(), OFFLINE, true, FAREWELL_MS);
                await(listener -> client.disconnect(0, null, listener), FAREWELL_MS);
            }
        } catch (BrokerException unheard) {
            ended.countDown(); // then the last will speaks for us
        }
        drop();
    }

    /** Cuts the connection without a word, so that the broker publishes the last will. */
    void drop() {
        ended.countDown();
        try {
            client.disconnectForcibly(0, 0, false);
            client.close(true);
        } catch (MqttException e) {
            ended.countDown(); // Paho closes it itself when it is done disconnecting
        }
    }

    private interface Operation {
        IMqttToken begin(IMqttActionListener listener) throws MqttException;
    }

    private void await(Operation operation, long waitMs) throws BrokerException, InterruptedException {
        CompletableFuture<IMqttToken> done = new CompletableFuture<>();
        try {
            operation.begin(new Completion(done));
            done.get(waitMs, TimeUnit.MILLISECONDS);
        } catch (TimeoutException e) {
            throw new BrokerException(settings.uri() + " does not answer", e);
        } catch (MqttException e) {
            throw BrokerException.of(settings, e);
        } catch (ExecutionException e) {
            throw BrokerException.of(settings, e.getCause() == null ? e : e.getCause());
        }
    }

    private record Completion(CompletableFuture<IMqttToken> done) implements IMqttActionListener {
        @Override
        public void onSuccess(IMqttToken token) {
            done.complete(token);
        }

        @Override
        public void onFailure(IMqttToken token, @Nullable Throwable problem) {
            done.completeExceptionally(
                    problem == null ? new MqttException(MqttException.REASON_CODE_CONNECTION_LOST) : problem);
        }
    }

    private final class Callback implements MqttCallback {
        @Override
        public void connectionLost(Throwable cause) {
            ended.countDown();
            onEnd.run();
        }

        @Override
        public void messageArrived(String topic, MqttMessage message) {
            // nothing is subscribed to
        }

        @Override
        public void deliveryComplete(IMqttDeliveryToken token) {
            // what is published is waited for where it is published
        }
    }
}
