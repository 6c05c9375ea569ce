/**
 * Who may ask: while there are no sessions, only browsers on this machine whose page came from this server.
 */
@NullMarked
package org.bankfire.dashboard.access;

import org.jspecify.annotations.NullMarked;
