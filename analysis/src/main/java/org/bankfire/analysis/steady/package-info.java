/**
 * Whether a chamber holds its temperature: the slope of a window of readings under correlated noise, with its interval,
 * against a band in K/min. Steady is said only when the whole interval lies within the band.
 */
@NullMarked
package org.bankfire.analysis.steady;

import org.jspecify.annotations.NullMarked;
