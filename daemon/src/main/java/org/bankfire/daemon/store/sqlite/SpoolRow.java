package org.bankfire.daemon.store.sqlite;

import org.bankfire.analysis.reading.WallTime;

/**
 * Lines that wait for the server.
 *
 * @param id grows with every row and is never used again
 * @param rows readings and entries that it stands for; roll-ups count nothing
 * @param made when it was stored
 * @param lines as the encoder made them
 * @param done how many of them, from the first, the server has taken or refused already
 */
@SuppressWarnings("ArrayRecordComponent") // handed on to one reader, never compared
public record SpoolRow(long id, int rows, WallTime made, byte[] lines, int done) {}
