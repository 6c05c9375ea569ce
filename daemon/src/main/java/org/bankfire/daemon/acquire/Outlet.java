package org.bankfire.daemon.acquire;

import org.jspecify.annotations.Nullable;

/** Where one thread takes deliveries from. Safe for use by many threads. */
public interface Outlet {
    /** The next delivery, or null when none came within {@code timeoutMs}. */
    @Nullable
    Delivery poll(long timeoutMs) throws InterruptedException;

    /** Deliveries that wait. */
    int size();
}
