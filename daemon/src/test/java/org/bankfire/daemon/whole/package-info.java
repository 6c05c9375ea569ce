/** Whole paths: the built jar as a user runs it, with real lines, brokers, browser and store. */
@NullMarked
package org.bankfire.daemon.whole;

import org.jspecify.annotations.NullMarked;
