package org.bankfire.daemon.acquire.mqtt;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
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
 * One connection to a broker, from its opening to its end; the next one is a new object with a client of its own. So an
 * acknowledgement that comes late can't reach a later connection, where its message number may mean another message.
 */
final class BrokerConnection implements Arrivals.Acknowledger {
    /** What a connection tells. Called on Paho's threads: must return at once. */
    interface Events {
        /** The broker accepted us; comes before the first message. */
        void accepted(boolean sessionPresent);

        void message(BrokerConnection connection, String topic, MqttMessage message);
    }

    private static final int REFUSED = 0x80; // MQTT 3.1.1, 3.9.3
    private static final long STEP_MS = 1_000L * BrokerOptions.CONNECT_TIMEOUT_S + 2_000;
    private static final long LOOK_MS = 100;
    static final long FAREWELL_MS = 300;

    private final MqttSettings settings;
    private final Events events;
    private final MqttAsyncClient client;
    private final CountDownLatch ended = new CountDownLatch(1);
    private final Object acknowledging = new Object();
    private boolean open;
    private volatile String endedWhy = "";

    BrokerConnection(MqttSettings settings, Events events) throws BrokerException {
        this.settings = settings;
        this.events = events;
        try {
            this.client = new MqttAsyncClient(settings.uri(), settings.clientId(), new MemoryPersistence());
        } catch (MqttException e) {
            throw BrokerException.of(settings, e);
        }
    }

    /**
     * Connects, subscribes and says that we are online.
     *
     * @return what the broker did not grant, in words; empty when it granted all
     */
    String open(MqttConnectOptions options) throws BrokerException, InterruptedException {
        client.setManualAcks(true);
        client.setCallback(new Callback());
        synchronized (acknowledging) {
            open = true;
        }
        await(listener -> client.connect(options, null, new IMqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
                events.accepted(token.getSessionPresent());
                listener.onSuccess(token);
            }

            @Override
            public void onFailure(IMqttToken token, @Nullable Throwable problem) {
                listener.onFailure(token, problem);
            }
        }));
        String refused = subscribe();
        MqttMessage online = new MqttMessage(BrokerOptions.ONLINE);
        online.setQos(1);
        online.setRetained(true);
        await(listener -> client.publish(settings.statusTopic(), online, null, listener));
        return refused;
    }

    /** Acknowledges a message of this connection; false when the connection has ended. Never waits for the network. */
    @Override
    public boolean acknowledge(int id) {
        synchronized (acknowledging) {
            if (!open || ended.getCount() == 0) {
                return false;
            }
            try {
                client.messageArrivedComplete(id, 1);
                return true;
            } catch (MqttException e) {
                return false;
            }
        }
    }

    /** Asks for the end of the connection; the thread that opened it closes it. */
    @Override
    public void end(String why) {
        if (endedWhy.isEmpty()) {
            endedWhy = why;
        }
        ended.countDown();
    }

    /** Waits for the end; returns why. */
    String awaitEnd() throws InterruptedException {
        ended.await();
        return endedWhy;
    }

    /** Says that we are offline and leaves in order; takes 0.6 s at most. */
    void leave() throws InterruptedException {
        if (client.isConnected()) {
            MqttMessage offline = new MqttMessage(BrokerOptions.OFFLINE);
            offline.setQos(1);
            offline.setRetained(true);
            CompletableFuture<IMqttToken> told = new CompletableFuture<>();
            CompletableFuture<IMqttToken> left = new CompletableFuture<>();
            try {
                client.publish(settings.statusTopic(), offline, null, new Completion(told));
                told.get(FAREWELL_MS, TimeUnit.MILLISECONDS);
                client.disconnect(0, null, new Completion(left));
                left.get(FAREWELL_MS, TimeUnit.MILLISECONDS);
            } catch (MqttException | ExecutionException | TimeoutException e) {
                end(String.valueOf(e.getMessage())); // then the last will speaks for us
            }
        }
        drop();
    }

    /** Cuts the connection without a word, so that the broker publishes the last will. */
    void drop() {
        ended.countDown();
        synchronized (acknowledging) {
            open = false; // from here on nobody acknowledges, so the client may go
        }
        try {
            client.disconnectForcibly(0, 0, false);
            client.close(true);
        } catch (MqttException e) {
            end(String.valueOf(e.getMessage())); // Paho closes it itself when it is done disconnecting
        }
    }

    private String subscribe() throws BrokerException, InterruptedException {
        List<MqttSettings.Topic> topics = settings.topics();
        String[] filters = topics.stream().map(settings::subscription).toArray(String[]::new);
        int[] qos = new int[filters.length];
        Arrays.fill(qos, 1);
        IMqttToken token = await(listener -> client.subscribe(filters, qos, null, listener));
        int[] granted = token.getGrantedQos();
        List<String> words = new ArrayList<>();
        for (int i = 0; i < filters.length && i < granted.length; i++) {
            if (granted[i] == REFUSED) {
                words.add("the broker refused the subscription to " + filters[i]);
            } else if (granted[i] == 0) {
                words.add("the broker grants QoS 0 only for " + filters[i] + ": messages can be lost");
            }
        }
        return String.join("; ", words);
    }

    /** An operation of the client that reports to a listener. */
    private interface Operation {
        IMqttToken begin(IMqttActionListener listener) throws MqttException;
    }

    private IMqttToken await(Operation operation) throws BrokerException, InterruptedException {
        CompletableFuture<IMqttToken> done = new CompletableFuture<>();
        try {
            operation.begin(new Completion(done));
            long waitedMs = 0;
            while (true) {
                try {
                    return done.get(LOOK_MS, TimeUnit.MILLISECONDS);
                } catch (TimeoutException e) {
                    waitedMs += LOOK_MS;
                    if (ended.getCount() == 0) {
                        throw new BrokerException(settings.uri() + ": " + endedWhy, e);
                    }
                    if (waitedMs >= STEP_MS) {
                        throw new BrokerException(settings.uri() + " does not answer", e);
                    }
                }
            }
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
            end("the connection was lost; connecting again");
        }

        @Override
        public void messageArrived(String topic, MqttMessage message) {
            events.message(BrokerConnection.this, topic, message);
        }

        @Override
        public void deliveryComplete(IMqttDeliveryToken token) {
            // what we publish is waited for where it is published
        }
    }
}
