/**
 * How the log is written. Nothing else in the project knows which library writes it.
 */
@NullMarked
package org.bankfire.daemon.logging;

import org.jspecify.annotations.NullMarked;
