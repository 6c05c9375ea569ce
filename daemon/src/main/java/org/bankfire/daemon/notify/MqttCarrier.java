package org.bankfire.daemon.notify;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.daemon.acquire.RareLog;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.mqtt.BackOff;
import org.bankfire.daemon.acquire.mqtt.BrokerException;
import org.bankfire.daemon.config.OutputConfig;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Publishes to a broker, all with QoS 1, under a prefix:
 *
 * <ul>
 *   <li>{@code forge/ID/state}, retained: how the forge stands, whenever phase, flame or an alarm changes;
 *   <li>{@code forge/ID/event}: each step of each alarm, in order;
 *   <li>{@code daemon/status}, retained: {@code online}, {@code offline} after an ordered stop, {@code lost} by last will;
 *   <li>{@code daemon/heartbeat}: a beat at regular times while the daemon's own work goes on;
 *   <li>{@code daemon/test}: tests.
 * </ul>
 *
 * <p>A thread of its own holds the connection, the states and the heartbeat.
 */
final class MqttCarrier implements Carrier {
    private static final Logger LOG = LoggerFactory.getLogger(MqttCarrier.class);

    /** A connection that held this long was a good one: the next loss begins with the shortest wait. */
    private static final long GOOD_CONNECTION_NANOS = TimeUnit.SECONDS.toNanos(30);

    private static final long JOIN_MS = 2_000;

    private final OutputConfig.Mqtt settings;
    private final ReceiptClock clock;
    private final LongSupplier nanoTime;
    private final BooleanSupplier alive;
    private final BooleanSupplier logging;
    private final BackOff backOff;
    private final RareLog troubles;
    private final Thread thread;

    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();
    /** One a forge: a newer one takes the place of an older. */
    private final Map<String, ForgeSnapshot> latest = new LinkedHashMap<>();

    private final Map<String, ForgeSnapshot> unpublished = new LinkedHashMap<>();
    private @Nullable MqttPublisher connection;
    private volatile String trouble = "not connected yet";
    private boolean closing;
    private Runnable ready = () -> {};

    /**
     * A carrier that is not connected yet.
     *
     * @param nanoTime a clock that never steps
     * @param alive whether readings are watched; without that no heart beats
     * @param logging whether readings are stored
     */
    MqttCarrier(
            OutputConfig.Mqtt settings,
            ReceiptClock clock,
            LongSupplier nanoTime,
            BooleanSupplier alive,
            BooleanSupplier logging,
            BackOff backOff) {
        this.settings = settings;
        this.clock = clock;
        this.nanoTime = nanoTime;
        this.alive = alive;
        this.logging = logging;
        this.backOff = backOff;
        this.troubles = new RareLog(LOG, clock);
        this.thread = new Thread(this::hold, "output " + settings.telling().name() + " connection");
        this.thread.setDaemon(true);
    }

    @Override
    public boolean keepsEveryMessage() {
        return true;
    }

    @Override
    public void start(Runnable whenReady) {
        lock.lock();
        try {
            ready = whenReady;
        } finally {
            lock.unlock();
        }
        thread.start();
    }

    @Override
    public String trouble() {
        return trouble;
    }

    /** Takes how a forge stands; returns at once. */
    void take(ForgeSnapshot snapshot) {
        lock.lock();
        try {
            ForgeSnapshot before = latest.put(snapshot.forge(), snapshot);
            if (before == null || !tellsTheSame(before, snapshot)) {
                unpublished.put(snapshot.forge(), snapshot);
                changed.signalAll();
            }
        } finally {
            lock.unlock();
        }
    }

    private static boolean tellsTheSame(ForgeSnapshot one, ForgeSnapshot other) {
        return one.phase() == other.phase()
                && one.flame() == other.flame()
                && one.alarms().equals(other.alarms());
    }

    @Override
    public String carry(Message message) throws CarryException, InterruptedException {
        MqttPublisher open;
        lock.lock();
        try {
            open = connection;
        } finally {
            lock.unlock();
        }
        if (open == null) {
            String why = trouble;
            throw CarryException.passing(why.isEmpty() ? "not connected" : why);
        }
        String topic = message.forge() == null ? daemon("test") : forge(message.forge(), "event");
        try {
            open.publish(topic, message.json(), false);
            return settings.broker().uri() + " acknowledged it on " + topic + ".";
        } catch (BrokerException e) {
            // What the broker may still hold of it must not come after what follows.
            open.drop();
            wake();
            throw CarryException.passing(String.valueOf(e.getMessage()));
        }
    }

    private String daemon(String what) {
        return settings.prefix() + "/daemon/" + what;
    }

    private String forge(String id, String what) {
        return settings.prefix() + "/forge/" + id + "/" + what;
    }

    private void hold() {
        try {
            while (!isClosing()) {
                long began = nanoTime.getAsLong();
                connectOnce();
                if (nanoTime.getAsLong() - began > GOOD_CONNECTION_NANOS) {
                    backOff.reset();
                }
                pause(backOff.nextMs());
            }
        } catch (InterruptedException interrupted) {
            LOG.debug("output {} was told to stop", settings.telling().name());
        }
    }

    /** Connects and publishes until the connection ends, or can't. */
    private void connectOnce() throws InterruptedException {
        MqttPublisher publisher = null;
        try {
            publisher = new MqttPublisher(settings.broker(), this::wake);
            publisher.open();
            begin(publisher);
            publishUntilEnd(publisher);
        } catch (BrokerException e) {
            lost(String.valueOf(e.getMessage()));
        } catch (RuntimeException | Error e) {
            // Nothing that the library throws may end this thread.
            lost(settings.broker().uri() + ": the MQTT library failed: " + e);
        } finally {
            boolean orderly = end();
            if (publisher != null && orderly) {
                publisher.leave();
            } else if (publisher != null) {
                publisher.drop();
            }
        }
    }

    private void begin(MqttPublisher publisher) {
        Runnable tell;
        lock.lock();
        try {
            connection = publisher;
            unpublished.putAll(latest);
            trouble = "";
            tell = ready;
        } finally {
            lock.unlock();
        }
        LOG.info(
                "output {}: connected to {}",
                settings.telling().name(),
                settings.broker().uri());
        tell.run();
    }

    private void publishUntilEnd(MqttPublisher publisher) throws BrokerException, InterruptedException {
        long periodNanos = Math.round(settings.heartbeatS() * 1e9);
        long beatAt = nanoTime.getAsLong();
        while (true) {
            ForgeSnapshot state = nextState(publisher, beatAt - nanoTime.getAsLong());
            if (isClosing()) {
                return;
            }
            if (publisher.hasEnded()) {
                throw new BrokerException(settings.broker().uri() + ": the connection was lost; connecting again");
            }
            if (state != null) {
                publisher.publish(forge(state.forge(), "state"), Wording.state(state), true);
            }
            if (nanoTime.getAsLong() - beatAt >= 0) {
                beatAt = nanoTime.getAsLong() + periodNanos;
                if (alive.getAsBoolean()) {
                    publisher.publish(
                            daemon("heartbeat"),
                            Wording.beat(clock.stamp(), settings.heartbeatS(), logging.getAsBoolean()),
                            false);
                }
            }
        }
    }

    /** Waits for a state to publish; null when the time is over, the connection has ended or we close. */
    private @Nullable ForgeSnapshot nextState(MqttPublisher publisher, long mostNanos) throws InterruptedException {
        long left = mostNanos;
        lock.lockInterruptibly();
        try {
            while (unpublished.isEmpty() && left > 0 && !closing && !publisher.hasEnded()) {
                left = changed.awaitNanos(left);
            }
            if (unpublished.isEmpty()) {
                return null;
            }
            String first = unpublished.keySet().iterator().next();
            return unpublished.remove(first);
        } finally {
            lock.unlock();
        }
    }

    /** The connection is not to be used any more; true when it ends because we close. */
    private boolean end() {
        lock.lock();
        try {
            connection = null;
            return closing;
        } finally {
            lock.unlock();
        }
    }

    private void lost(String why) {
        if (!isClosing()) {
            trouble = why;
            troubles.warn("output " + settings.telling().name() + ": " + why);
        }
    }

    private void pause(long milliseconds) throws InterruptedException {
        long left = TimeUnit.MILLISECONDS.toNanos(milliseconds);
        lock.lockInterruptibly();
        try {
            while (left > 0 && !closing) {
                left = changed.awaitNanos(left);
            }
        } finally {
            lock.unlock();
        }
    }

    private boolean isClosing() {
        lock.lock();
        try {
            return closing;
        } finally {
            lock.unlock();
        }
    }

    private void wake() {
        lock.lock();
        try {
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    /** Publishes nothing more, says that we are offline and leaves. */
    @Override
    public void close() {
        lock.lock();
        try {
            closing = true;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
        try {
            thread.join(JOIN_MS);
            thread.interrupt();
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
