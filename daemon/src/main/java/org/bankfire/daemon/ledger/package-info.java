/**
 * The ledger thread: takes deliveries in order, decodes, corrects, hands to the store and to the monitors.
 */
@NullMarked
package org.bankfire.daemon.ledger;

import org.jspecify.annotations.NullMarked;
