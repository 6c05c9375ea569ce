package org.bankfire.daemon.store.sqlite;

import org.bankfire.analysis.reading.WallTime;

/**
 * A line that the server did not want.
 *
 * @param at when it said so
 * @param line as it was sent
 * @param why what the server said
 */
public record RefusedLine(WallTime at, String line, String why) {}
