/**
 * A burn from gas on and lit until gas off and cooling: its phases and its boundaries.
 */
@NullMarked
package org.bankfire.analysis.burn;

import org.jspecify.annotations.NullMarked;
