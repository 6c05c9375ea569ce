/**
 * What whole-path tests need around the daemon: real services and lines (a broker, a pair of pseudo-terminals, a link
 * that can be cut), and a virtual forge in a process of its own that writes to them.
 */
@NullMarked
package org.bankfire.daemon.testbed;

import org.jspecify.annotations.NullMarked;
