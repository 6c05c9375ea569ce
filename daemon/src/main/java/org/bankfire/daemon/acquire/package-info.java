/**
 * Sources of readings: each delivers frames into a bounded queue and survives whatever its line does.
 */
@NullMarked
package org.bankfire.daemon.acquire;

import org.jspecify.annotations.NullMarked;
