/**
 * The description of one forge as its builder gives it: burner, chamber, lining and openings, in SI units.
 */
@NullMarked
package org.bankfire.analysis.forge;

import org.jspecify.annotations.NullMarked;
