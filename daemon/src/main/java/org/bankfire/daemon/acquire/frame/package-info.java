/**
 * Pure decoders: bytes of one frame to readings, notes and settings. No I/O and no clock.
 */
@NullMarked
package org.bankfire.daemon.acquire.frame;

import org.jspecify.annotations.NullMarked;
