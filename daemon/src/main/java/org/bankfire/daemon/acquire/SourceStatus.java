package org.bankfire.daemon.acquire;

/**
 * How a source is.
 *
 * @param connected whether it can deliver
 * @param detail in words, such as why it is not connected
 * @param frames delivered since the start
 * @param discarded bytes or lines that never became a frame, such as over-long lines
 * @param reconnects times that it came back
 */
public record SourceStatus(boolean connected, String detail, long frames, long discarded, long reconnects) {}
