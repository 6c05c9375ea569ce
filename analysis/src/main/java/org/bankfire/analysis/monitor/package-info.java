/**
 * What the daemon calls: one monitor a forge takes readings in order and gives phase, derived quantities, alarm
 * transitions and a snapshot to show.
 */
@NullMarked
package org.bankfire.analysis.monitor;

import org.jspecify.annotations.NullMarked;
