package org.bankfire.daemon.testbed;

import java.io.IOException;

/** Where the virtual forge process sends its lines. */
interface LineSink extends AutoCloseable {
    /** Sends one line without its end; throws when it is not known to have arrived. Called again later it tries anew. */
    void send(byte[] line) throws IOException;

    @Override
    void close() throws IOException;
}
