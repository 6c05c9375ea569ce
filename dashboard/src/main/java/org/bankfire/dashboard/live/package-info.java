/**
 * The live stream: each browser hears of new snapshots by server-sent events, at a bounded rate, and of a heartbeat.
 */
@NullMarked
package org.bankfire.dashboard.live;

import org.jspecify.annotations.NullMarked;
