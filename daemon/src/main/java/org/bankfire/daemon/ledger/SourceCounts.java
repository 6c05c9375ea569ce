package org.bankfire.daemon.ledger;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.bankfire.daemon.acquire.Source;

/** The counts of every source; as many as are configured. Safe for use by many threads. */
public final class SourceCounts {
    private final Map<Source, FrameCounts> counts = new ConcurrentHashMap<>();

    /** What has been seen of {@code source}. */
    public FrameCounts of(Source source) {
        return counts.computeIfAbsent(source, any -> new FrameCounts());
    }
}
