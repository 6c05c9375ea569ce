package org.bankfire.daemon.store.sqlite;

import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.TimeRange;

/**
 * A stretch of a channel in which readings were stored that the server may know more of than the file does.
 *
 * @param channelId in the file
 * @param range whole buckets of 5 min
 * @param buckets these
 */
public record LateStretch(int channelId, Channel channel, TimeRange range, List<Bucket> buckets) {
    public LateStretch {
        buckets = List.copyOf(buckets);
    }

    /**
     * One of its buckets.
     *
     * @param touched how many readings were stored in it when it was looked up
     */
    public record Bucket(WallTime start, long touched) {}
}
