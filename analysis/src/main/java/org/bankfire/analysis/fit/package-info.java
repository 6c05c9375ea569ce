/**
 * Fitting a model to a record by least squares: the problem, the solver, and a result that says what the record can tell
 * and what it cannot. Empirical curves for a heat-up and a cool-down, which need no description of the forge, are fitted
 * with it.
 */
@NullMarked
package org.bankfire.analysis.fit;

import org.jspecify.annotations.NullMarked;
