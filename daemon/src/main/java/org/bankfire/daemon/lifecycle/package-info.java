/**
 * Start and stop in order.
 */
@NullMarked
package org.bankfire.daemon.lifecycle;

import org.jspecify.annotations.NullMarked;
