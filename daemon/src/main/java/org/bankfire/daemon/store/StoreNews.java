package org.bankfire.daemon.store;

import java.util.List;

/**
 * What a local store newly took of a batch, to be told to a server: told twice, or again after later news, it makes no
 * difference once all has been told in order.
 *
 * @param fresh readings, notes, settings and transitions whose keys were not there before; burns and fits as they stand
 * @param rollups all that the fresh readings changed, as they stand since
 */
public record StoreNews(StoreBatch fresh, List<ChannelRollup> rollups) {
    public StoreNews {
        rollups = List.copyOf(rollups);
    }

    /** Whether there is nothing to tell. */
    public boolean isEmpty() {
        return fresh.size() == 0 && rollups.isEmpty();
    }
}
