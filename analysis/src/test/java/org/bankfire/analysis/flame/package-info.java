/** Tests of the flame test, with a small forge of their own that shares no equation with it. */
@NullMarked
package org.bankfire.analysis.flame;

import org.jspecify.annotations.NullMarked;
