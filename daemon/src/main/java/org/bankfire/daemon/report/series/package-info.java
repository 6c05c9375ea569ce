/**
 * The report of a series of trials, as a model that knows no format. Its figures are those of the series, in the reader's units.
 */
@NullMarked
package org.bankfire.daemon.report.series;

import org.jspecify.annotations.NullMarked;
