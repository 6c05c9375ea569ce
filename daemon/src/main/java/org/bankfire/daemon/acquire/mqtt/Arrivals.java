package org.bankfire.daemon.acquire.mqtt;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.jspecify.annotations.Nullable;

/**
 * Messages of QoS 1 that arrived and are not acknowledged yet, over all connections of one session. Safe for use by many
 * threads.
 *
 * <p>A message is acknowledged on the connection that brought it last, and never on another: on a new connection the
 * broker sends again what was not acknowledged, and an acknowledgement too many could fall upon a new message of the
 * same number. A message that is sent again while it is still here (same number, topic and bytes, marked as sent again)
 * is not handed on a second time; while we have not acknowledged it, its number can't have been given to another. One
 * whose acknowledgement was lost on the way is handed on again: it is no longer here, and its number may be in use.
 */
final class Arrivals {
    /**
     * As many as MQTT can number at all. Less would have to be agreed with the broker, and can't in MQTT 3.1.1: Mosquitto
     * 2.0.11 was seen to have twice as many under way as its {@code max_inflight_messages} once a session was taken up again,
     * and a connection that ends for that brings all of them anew.
     */
    static final int MOST = 65_535;

    /** A Raspberry Pi has this to spare. Some 40,000 messages of a fleet, 4 s of a thousand forges at 10 Hz. */
    static final long MOST_BYTES = 8L << 20;

    /**
     * The store commits once a second, so an older message that is not stored was given up: then it must be handed on
     * again, or it would never be.
     */
    static final double GIVEN_UP_S = 60;

    /** The connection that brought a message. */
    interface Acknowledger {
        /** Acknowledges a message; false when the connection has ended. */
        boolean acknowledge(int id);

        /** Ends the connection, if it has not ended: what is not acknowledged comes again with the next one. */
        void end(String why);
    }

    /** What is to be done with a message. */
    sealed interface Verdict {}

    /** Hand it on. */
    record New(Arrival arrival) implements Verdict {}

    /** It was handed on already. */
    record Known() implements Verdict {}

    /** Too many wait; neither hand it on nor acknowledge it. */
    record NoRoom() implements Verdict {}

    /** A message that waits for its acknowledgement. */
    static final class Arrival {
        private final int id;
        private final String topic;
        private final byte[] payload;
        private final MonotonicTime since;
        private Acknowledger connection;
        private boolean stored;

        Arrival(Acknowledger connection, int id, String topic, byte[] payload, MonotonicTime since) {
            this.connection = connection;
            this.id = id;
            this.topic = topic;
            this.payload = payload;
            this.since = since;
        }
    }

    private final Map<Integer, Arrival> waiting = new HashMap<>();
    private long bytes;

    /** A message of QoS 1 arrived. */
    synchronized Verdict arrived(
            Acknowledger connection, int id, String topic, byte[] payload, boolean again, MonotonicTime now) {
        Arrival earlier = waiting.get(id);
        if (earlier != null && again && earlier.topic.equals(topic) && Arrays.equals(earlier.payload, payload)) {
            if (earlier.stored) {
                earlier.connection = connection;
                acknowledge(earlier);
                return new Known();
            }
            if (now.secondsSince(earlier.since) < GIVEN_UP_S) {
                earlier.connection = connection;
                return new Known();
            }
        }
        if (earlier == null && full(payload.length)) {
            // Those that wait only for being sent again, or were given up: without them here they are handed on again.
            waiting.values().removeIf(arrival -> arrival.stored || now.secondsSince(arrival.since) >= GIVEN_UP_S);
            bytes = waiting.values().stream().mapToLong(a -> a.payload.length).sum();
            if (full(payload.length)) {
                return new NoRoom();
            }
        }
        Arrival arrival = new Arrival(connection, id, topic, payload, now);
        replace(id, arrival);
        return new New(arrival);
    }

    /** The store has it. */
    synchronized void stored(Arrival arrival) {
        arrival.stored = true;
        if (waiting.get(arrival.id) == arrival) {
            acknowledge(arrival);
        }
    }

    /**
     * The store had to drop it, and works again. The broker does not send again what it has sent on a connection that
     * holds, and counts it among the few that it sends ahead of acknowledgements: the connection that brought it must
     * end. When there is a newer one that has not brought it yet, it still will.
     */
    synchronized void dropped(Arrival arrival) {
        if (waiting.get(arrival.id) == arrival) {
            replace(arrival.id, null);
            arrival.connection.end("the store had to drop messages; connecting again, so that they are sent again");
        }
    }

    /** It was not handed on after all: forgets it, so that it is handed on when it is sent again. */
    synchronized void forget(Arrival arrival) {
        if (waiting.get(arrival.id) == arrival) {
            replace(arrival.id, null);
        }
    }

    /** The broker began a new session: it knows none of them. */
    synchronized void clear() {
        waiting.clear();
        bytes = 0;
        notifyAll();
    }

    /** Whether more than half of what may wait for the store does. */
    synchronized boolean crowded() {
        long count = waiting.values().stream().filter(a -> !a.stored).count();
        long unstoredBytes = waiting.values().stream()
                .filter(a -> !a.stored)
                .mapToLong(a -> a.payload.length)
                .sum();
        return count > MOST / 2 || unstoredBytes > MOST_BYTES / 2;
    }

    /** Waits at most {@code timeoutMs} until all are acknowledged. */
    synchronized void awaitNone(long timeoutMs) throws InterruptedException {
        long end = System.nanoTime() + timeoutMs * 1_000_000;
        while (!waiting.isEmpty()) {
            long leftMs = (end - System.nanoTime()) / 1_000_000;
            if (leftMs <= 0) {
                return;
            }
            wait(leftMs);
        }
    }

    private boolean full(int more) {
        return waiting.size() >= MOST || bytes + more > MOST_BYTES;
    }

    /** One whose connection has ended stays, to be acknowledged when it is sent again. */
    private void acknowledge(Arrival arrival) {
        if (arrival.connection.acknowledge(arrival.id)) {
            replace(arrival.id, null);
        }
    }

    private void replace(int id, @Nullable Arrival arrival) {
        Arrival old = arrival == null ? waiting.remove(id) : waiting.put(id, arrival);
        bytes += (arrival == null ? 0 : arrival.payload.length) - (old == null ? 0 : old.payload.length);
        if (waiting.isEmpty()) {
            notifyAll();
        }
    }
}
