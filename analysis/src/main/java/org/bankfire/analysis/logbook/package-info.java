/**
 * What was written down about a forge and what it became later: nothing is overwritten, a correction is an entry of its own.
 * {@link org.bankfire.analysis.logbook.LogResolver} reads both together into the entries as they stand, each with its history.
 */
@NullMarked
package org.bankfire.analysis.logbook;

import org.jspecify.annotations.NullMarked;
