package org.bankfire.daemon.store;

import org.bankfire.analysis.reading.Channel;

/** A roll-up as it stands, with whose it is: channel, width and start are its key. */
public record ChannelRollup(Channel channel, Rollup.Width width, Rollup rollup) {}
