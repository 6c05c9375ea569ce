package org.bankfire.daemon.notify;

/** Brings messages to one peer. Used by one thread, which it may hold for its own bounded time. */
interface Carrier extends AutoCloseable {
    /**
     * Brings one message, or says why not.
     *
     * @return what the peer did with it, in words
     */
    String carry(Message message) throws CarryException, InterruptedException;

    /**
     * Begins whatever goes on beside the messages.
     *
     * @param ready to be called when a peer that could not be reached can be reached again
     */
    default void start(Runnable ready) {}

    /** What is wrong with the way to the peer, as far as known without a message; empty when nothing is. */
    default String trouble() {
        return "";
    }

    /** Whether every single message counts, in order; if not, the latest state of an alarm stands for those before. */
    default boolean keepsEveryMessage() {
        return false;
    }

    @Override
    default void close() {}
}
