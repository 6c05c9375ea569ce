package org.bankfire.dashboard.source;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.WallTime;

/** The forges as they are now. Safe for use by many threads. */
public interface ForgeFeed {
    /** Every forge that is configured or has been heard of, in order of configuration. */
    List<ForgeFace> forges();

    /** The latest snapshot; empty for an unknown forge. */
    Optional<ForgeSnapshot> snapshot(String forge);

    /** The daemon's clock, for the age of readings. */
    WallTime now();

    /**
     * How long ago the thread that judges the readings last went round, s. A small fraction of a second while it works;
     * grows while it hangs, though the pages are still served.
     */
    double judgedAgoS();

    /** How late snapshots are. */
    default SnapshotLag lag() {
        return SnapshotLag.NONE;
    }

    /**
     * Calls {@code listener} with each new snapshot, on the thread that made it: the listener must return at once.
     *
     * @return closes the subscription
     */
    Subscription subscribe(Consumer<ForgeSnapshot> listener);

    /** Ends a subscription; closing twice is closing once. */
    interface Subscription extends AutoCloseable {
        @Override
        void close();
    }
}
