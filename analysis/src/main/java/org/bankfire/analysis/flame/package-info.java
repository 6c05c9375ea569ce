/**
 * Is the flame burning while gas flows? The forge model says what the chamber should do, and a sequential test whether what
 * it does is still that of a burning forge.
 */
@NullMarked
package org.bankfire.analysis.flame;

import org.jspecify.annotations.NullMarked;
