package org.bankfire.dashboard.source;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/** The ways by which alarms leave the daemon, beside the page. Safe for use by many threads. */
public interface OutputBook {
    /** Every output that is configured, in order of configuration. */
    List<OutputState> outputs();

    /**
     * Sends a message that says it is a test through one output, for real.
     *
     * @param name of an output
     * @return done within some ten seconds, with what came of it; empty for an unknown output
     */
    Optional<CompletableFuture<Tested>> test(String name);

    /** What an output does. */
    enum Condition {
        /** Nothing has been sent yet and nothing waits. */
        IDLE,
        /** The latest message went out. */
        OK,
        /** A message is on its way. */
        WAITING,
        /** The latest attempt failed, or its peer cannot be reached. */
        FAILING;

        /** Lower-case name for the API. */
        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * One output as it is now. Counts are since the start of the daemon.
     *
     * @param name its own name in the configuration
     * @param kind {@code mqtt}, {@code webhook}, {@code mail} or {@code command}
     * @param condition what it does
     * @param detail in words, never a secret
     * @param sent messages that arrived
     * @param failed messages that were given up
     * @param waiting messages that wait
     * @param dropped messages that fell out of a full queue
     * @param lastSentAt when the latest message arrived; null when none did
     */
    record OutputState(
            String name,
            String kind,
            Condition condition,
            String detail,
            long sent,
            long failed,
            long waiting,
            long dropped,
            @Nullable WallTime lastSentAt) {}

    /**
     * What came of a test.
     *
     * @param done whether the peer took the message
     * @param words what happened, fit for the reader
     */
    record Tested(boolean done, String words) {}
}
