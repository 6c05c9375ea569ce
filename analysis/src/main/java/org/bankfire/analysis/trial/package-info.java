/**
 * Trials: burns cut into stretches of equal settings, what each stretch tells in figures, and whether a change of the
 * settings changed them beyond what burns differ by anyway. It says too which burn would tell most next.
 */
@NullMarked
package org.bankfire.analysis.trial;

import org.jspecify.annotations.NullMarked;
