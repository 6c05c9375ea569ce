/**
 * Implements the dashboard's source interfaces over ledger and store.
 */
@NullMarked
package org.bankfire.daemon.bridge;

import org.jspecify.annotations.NullMarked;
