package org.bankfire.daemon.store;

/** Turns news into what a server takes. Called within the local store's transaction: it asks nobody and waits for nothing. */
@FunctionalInterface
public interface NewsEncoder {
    /** One or more lines in UTF-8, each ended by a line feed, and each to be understood without the others. */
    byte[] encode(StoreNews news);
}
