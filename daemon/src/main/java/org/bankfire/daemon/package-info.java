/**
 * The shell: the entry point and the wiring, by hand and in one place.
 */
@NullMarked
package org.bankfire.daemon;

import org.jspecify.annotations.NullMarked;
