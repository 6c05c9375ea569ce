/**
 * Gathers the burns that trials are made of, from the store or from recorded files. What comes of them is the analysis's.
 */
@NullMarked
package org.bankfire.daemon.trials;

import org.jspecify.annotations.NullMarked;
