/**
 * Readings over a serial line, through jSerialComm.
 */
@NullMarked
package org.bankfire.daemon.acquire.serial;

import org.jspecify.annotations.NullMarked;
