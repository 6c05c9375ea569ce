package org.bankfire.daemon.acquire.mqtt;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Function;
import java.util.random.RandomGenerator;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.RareLog;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.MqttTopic;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Messages from a broker, in a session that the broker keeps while we are away. A message is acknowledged when
 * {@link Delivery#stored} says so; what was not acknowledged comes again with the next connection. When the store had to
 * drop some of what was delivered ({@link Delivery#dropped}), the source connects anew for it: after a wait that grows
 * while that repeats, so that a store that overflows again and again is not stormed.
 *
 * <p>So each message is delivered at least once. A message that comes twice is stored once when its records carry a
 * time. When they carry none, the time of receipt stands for it, and a repetition after a lost acknowledgement makes a
 * second reading: senders should write times, or at least {@code seq}, which shows the repetition.
 *
 * <p>Retained messages are passed over: they are what the broker remembers from before the subscription, of unknown
 * age, and come again with each connection.
 *
 * <p>Brokers send a limited number of messages ahead of the acknowledgements (Mosquitto: 20, {@code
 * max_inflight_messages}), so the rate of messages can't exceed that number for each commit of the store.
 */
public final class MqttSource implements Source {
    /** Largest message taken, bytes: sixteen times the longest serial line. A larger one is acknowledged and dropped. */
    public static final int LIMIT_BYTES = 65_536;

    private static final Logger LOG = LoggerFactory.getLogger(MqttSource.class);

    /** Between Paho's thread, which must not wait, and the queue, which may be full: as many as may wait at all. */
    private static final int HOLDING = Arrivals.MOST;

    /** A flood that nobody asks word of leaves half the room to those who do, and whose overflow ends the connection. */
    private static final int MOST_UNANSWERED = HOLDING / 2;

    private static final int CLIENT_ID_CHARACTERS = 64;
    private static final long LOOK_MS = 100;

    /** A connection that held this long was a good one: the next loss begins with the shortest wait. */
    private static final double GOOD_CONNECTION_S = 30;

    /** The store commits once a second; waiting for that spares the messages from coming twice. */
    private static final long LAST_ACKNOWLEDGEMENTS_MS = 1_000;

    private static final long JOIN_MS = 400;

    private record Subscribed(String filter, FrameDecoder decoder) {}

    /** How it stands with the broker: in one piece, so that nobody reads of a lost connection that all is well. */
    private record Link(boolean connected, String detail) {}

    private final MqttSettings settings;
    private final List<Subscribed> subscribed = new ArrayList<>();
    private final ReceiptClock clock;
    private final BackOff backOff;
    private final Arrivals arrivals = new Arrivals();
    private final BlockingQueue<Delivery> holding = new ArrayBlockingQueue<>(HOLDING);
    private final RareLog trouble;
    private final RareLog refused;
    private final RareLog connections;
    private final AtomicBoolean started = new AtomicBoolean();
    private final CountDownLatch closed = new CountDownLatch(1);
    private final AtomicLong frames = new AtomicLong();
    private final AtomicLong discarded = new AtomicLong();
    private final AtomicLong opened = new AtomicLong();
    private volatile Link link = new Link(false, "not started");
    private volatile @Nullable BrokerConnection current;
    private volatile @Nullable Thread connector;

    /**
     * A source that is yet to be started.
     *
     * @param decoders gives the decoder of a format; called once for each topic
     * @param random spreads the attempts to connect
     * @throws IllegalArgumentException when {@code settings} can't be meant; says which and what is allowed
     */
    public MqttSource(
            MqttSettings settings,
            Function<FrameFormat, FrameDecoder> decoders,
            ReceiptClock clock,
            RandomGenerator random) {
        check(settings);
        this.settings = settings;
        for (MqttSettings.Topic topic : settings.topics()) {
            subscribed.add(new Subscribed(topic.filter(), decoders.apply(topic.format())));
        }
        this.clock = clock;
        this.backOff = new BackOff(random);
        this.trouble = new RareLog(LOG, clock);
        this.refused = new RareLog(LOG, clock);
        this.connections = new RareLog(LOG, clock);
    }

    @Override
    public String name() {
        return "mqtt " + settings.uri();
    }

    @Override
    public void start(Intake queue) {
        if (!started.compareAndSet(false, true)) {
            throw new IllegalStateException(name() + " was started already");
        }
        link = new Link(false, "connecting");
        Thread connecting = new Thread(this::connect, name());
        connecting.setDaemon(true);
        Thread delivering = new Thread(() -> deliver(queue), name() + " deliveries");
        delivering.setDaemon(true);
        connector = connecting;
        delivering.start();
        connecting.start();
    }

    @Override
    public SourceStatus status() {
        Link now = link;
        return new SourceStatus(
                now.connected, now.detail, frames.get(), discarded.get(), Math.max(0, opened.get() - 1));
    }

    /** A broker's connection carries a whole fleet. */
    @Override
    public boolean isShared() {
        return true;
    }

    @Override
    public void close() {
        closed.countDown();
        Thread connecting = connector;
        if (connecting == null) {
            return;
        }
        try {
            if (link.connected) {
                arrivals.awaitNone(LAST_ACKNOWLEDGEMENTS_MS);
            }
            BrokerConnection connection = current;
            if (connection != null) {
                connection.end("closed");
            }
            connecting.join(JOIN_MS + 2 * BrokerConnection.FAREWELL_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static void check(MqttSettings settings) {
        int idLength = settings.clientId().length();
        if (idLength < 1 || idLength > CLIENT_ID_CHARACTERS) {
            throw new IllegalArgumentException("client id \"" + settings.clientId() + "\" has " + idLength
                    + " characters; allowed are 1 to " + CLIENT_ID_CHARACTERS);
        }
        String uri = settings.uri();
        if (!uri.matches("(tcp|ssl)://[^/@\\s]+")) {
            throw new IllegalArgumentException("broker address \"" + uri.replaceAll("//.*@", "//…@")
                    + "\"; allowed is tcp://host:1883 or ssl://host:8883, user and password apart from it");
        }
        if (settings.caFile() != null && !uri.startsWith("ssl:")) {
            throw new IllegalArgumentException("a certificate file is of use with ssl:// only, not with " + uri);
        }
        if (settings.passwordFile() != null && settings.user() == null) {
            throw new IllegalArgumentException("a password file needs a user");
        }
        if (settings.topics().isEmpty()) {
            throw new IllegalArgumentException("no topic to subscribe to; one at least is needed");
        }
        for (MqttSettings.Topic topic : settings.topics()) {
            MqttTopic.validate(topic.filter(), true);
            if (topic.filter().startsWith(MqttSettings.SHARED)) {
                throw new IllegalArgumentException(
                        "topic " + topic.filter() + " of a shared subscription; the share is named apart from it");
            }
        }
        MqttTopic.validate(settings.statusTopic(), false);
    }

    private void connect() {
        try {
            while (closed.getCount() > 0) {
                MonotonicTime begin = clock.monotonic();
                connectOnce();
                if (clock.monotonic().secondsSince(begin) > GOOD_CONNECTION_S) {
                    backOff.reset();
                }
                if (closed.await(backOff.nextMs(), TimeUnit.MILLISECONDS)) {
                    break;
                }
                awaitRoom();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            link = new Link(false, "closed");
        }
    }

    /** Connects and stays until the connection ends, or can't. */
    private void connectOnce() throws InterruptedException {
        BrokerConnection connection = null;
        try {
            connection = new BrokerConnection(settings, new Events());
            current = connection;
            if (closed.getCount() == 0) {
                return; // closed before there was anything to end
            }
            String refusedTopics = connection.open(BrokerOptions.of(settings));
            opened.incrementAndGet();
            String how = refusedTopics.isEmpty() ? "connected" : "connected, but " + refusedTopics;
            link = new Link(true, how);
            connections.info(name() + ": " + how);
            lost(connection.awaitEnd());
        } catch (BrokerException e) {
            lost(String.valueOf(e.getMessage()));
        } catch (RuntimeException | LinkageError e) {
            // Nothing that the library throws may end this thread.
            lost(settings.uri() + ": the MQTT library failed: " + e);
        } finally {
            current = null;
            if (connection != null) {
                if (closed.getCount() == 0) {
                    connection.leave();
                } else {
                    connection.drop();
                }
            }
        }
    }

    private void lost(String why) {
        if (closed.getCount() > 0) {
            link = new Link(false, why);
            trouble.warn(name() + ": " + why);
        } else {
            link = new Link(false, "closed");
        }
    }

    /** After an overflow: connecting again is of use only when what waits has become less. */
    private void awaitRoom() throws InterruptedException {
        while ((holding.size() > HOLDING / 2 || arrivals.crowded()) && !closed.await(LOOK_MS, TimeUnit.MILLISECONDS)) {
            link = new Link(false, "not connected until the store has caught up");
        }
    }

    private void deliver(Intake queue) {
        try {
            while (closed.getCount() > 0) {
                Delivery delivery = holding.poll(LOOK_MS, TimeUnit.MILLISECONDS);
                while (delivery != null && closed.getCount() > 0) {
                    if (queue.offer(delivery, LOOK_MS)) {
                        frames.incrementAndGet();
                        delivery = null;
                    }
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private @Nullable FrameDecoder decoder(String topic) {
        for (Subscribed subscription : subscribed) {
            if (MqttTopic.isMatched(subscription.filter(), topic)) {
                return subscription.decoder();
            }
        }
        return null;
    }

    /** On Paho's thread, which must never wait. */
    private final class Events implements BrokerConnection.Events {
        @Override
        public void accepted(boolean sessionPresent) {
            if (!sessionPresent) {
                arrivals.clear();
            }
        }

        @Override
        public void message(BrokerConnection connection, String topic, MqttMessage message) {
            if (closed.getCount() == 0) {
                return; // not acknowledged, so it comes again
            }
            FrameDecoder decoder = decoder(topic);
            byte[] payload = message.getPayload();
            String objection = objection(decoder, topic, message, payload.length);
            if (decoder == null || !objection.isEmpty()) {
                discarded.incrementAndGet();
                refused.warn(name() + ": " + objection);
                if (message.getQos() > 0) {
                    connection.acknowledge(message.getId());
                }
                return;
            }
            if (message.getQos() == 0) {
                if (holding.size() >= MOST_UNANSWERED) {
                    discarded.incrementAndGet();
                    refused.warn(name() + ": more messages of QoS 0 come than can be read; some are passed over");
                    return;
                }
                hold(decoder, payload, Delivery.NO_ACKNOWLEDGEMENT, Delivery.NO_ACKNOWLEDGEMENT);
                return;
            }
            Arrivals.Verdict verdict = arrivals.arrived(
                    connection, message.getId(), topic, payload, message.isDuplicate(), clock.monotonic());
            if (verdict instanceof Arrivals.New fresh) {
                Arrivals.Arrival arrival = fresh.arrival();
                if (!hold(decoder, payload, () -> arrivals.stored(arrival), () -> arrivals.dropped(arrival))) {
                    arrivals.forget(arrival);
                    connection.end("too many messages wait for the store");
                }
            } else if (verdict instanceof Arrivals.NoRoom) {
                connection.end("too many messages wait for the store");
            }
        }

        private boolean hold(FrameDecoder decoder, byte[] payload, Runnable stored, Runnable dropped) {
            boolean held =
                    holding.offer(new Delivery.Raw(MqttSource.this, decoder, payload, clock.stamp(), stored, dropped));
            if (!held) {
                discarded.incrementAndGet();
            }
            return held;
        }

        /** Why a message is not taken; empty when it is. */
        private String objection(@Nullable FrameDecoder decoder, String topic, MqttMessage message, int length) {
            if (decoder == null) {
                return "message on " + topic + ", which no configured topic covers; the broker keeps an earlier"
                        + " subscription of client id " + settings.clientId() + "; passed over";
            }
            if (length > LIMIT_BYTES) {
                return "message of " + length + " bytes on " + topic + "; at most " + LIMIT_BYTES + " are taken";
            }
            return message.isRetained() ? "retained message on " + topic + " passed over: its age is unknown" : "";
        }
    }
}
