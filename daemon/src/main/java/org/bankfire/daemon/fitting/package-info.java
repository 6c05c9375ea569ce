/**
 * Gathers what passes through the pipeline into burns and fits them, on a thread that nobody waits for. What a fit is, and
 * what follows from it, is the analysis' to say.
 */
@NullMarked
package org.bankfire.daemon.fitting;

import org.jspecify.annotations.NullMarked;
