package org.bankfire.daemon.store;

import java.util.List;

/** Turns news into what a server takes. It asks nobody and waits for nothing: a local store calls it amid a transaction. */
public interface NewsEncoder {
    /** A block of lines, each to be understood without the others. Blocks one after the other are a block. */
    byte[] encode(StoreNews news);

    /** The lines of a block. */
    List<String> lines(byte[] block);
}
