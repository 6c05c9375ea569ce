/**
 * What whole-path tests need around the daemon: a virtual forge in a process of its own that writes to a line or a broker.
 */
@NullMarked
package org.bankfire.daemon.testbed;

import org.jspecify.annotations.NullMarked;
