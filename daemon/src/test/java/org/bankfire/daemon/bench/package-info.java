/**
 * The flame alarms under trial: thousands of burns of virtual forges at random, with what users, weather and sensors do to
 * them, through the pipeline as the daemon wires it. Counts misses, delays, false alarms and annunciations.
 */
@NullMarked
package org.bankfire.daemon.bench;

import org.jspecify.annotations.NullMarked;
