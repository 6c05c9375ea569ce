/**
 * The log book's storage: one interface, and the writer thread that commits to it.
 */
@NullMarked
package org.bankfire.daemon.store;

import org.jspecify.annotations.NullMarked;
