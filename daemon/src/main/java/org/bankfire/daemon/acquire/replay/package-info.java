/**
 * Recorded burns: files in and out, and their replay in event time.
 */
@NullMarked
package org.bankfire.daemon.acquire.replay;

import org.jspecify.annotations.NullMarked;
