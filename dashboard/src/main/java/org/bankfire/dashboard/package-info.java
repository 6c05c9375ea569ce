/**
 * The face: the HTTP server and its configuration. It knows nothing of serial ports, brokers or databases.
 */
@NullMarked
package org.bankfire.dashboard;

import org.jspecify.annotations.NullMarked;
