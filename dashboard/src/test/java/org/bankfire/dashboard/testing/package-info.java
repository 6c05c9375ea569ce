/** A small forge of our own invention, scripted, and what the tests need to speak to the server. */
@NullMarked
package org.bankfire.dashboard.testing;

import org.jspecify.annotations.NullMarked;
