/**
 * The embedded store on SQLite.
 */
@NullMarked
package org.bankfire.daemon.store.sqlite;

import org.jspecify.annotations.NullMarked;
