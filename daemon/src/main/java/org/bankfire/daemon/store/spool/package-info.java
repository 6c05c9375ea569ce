/**
 * The store of a fleet: a local file takes everything first, and a forwarder brings it to a server. Recent readings and the
 * log book are asked of the file, older readings of the server.
 */
@NullMarked
package org.bankfire.daemon.store.spool;

import org.jspecify.annotations.NullMarked;
