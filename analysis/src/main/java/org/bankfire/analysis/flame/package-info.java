/**
 * Is the flame burning while gas flows? First test for flame-out and for no ignition.
 */
@NullMarked
package org.bankfire.analysis.flame;

import org.jspecify.annotations.NullMarked;
