/**
 * The report of one burn: what the store holds of it, gathered within bounds, and told in sections of a
 * {@link org.bankfire.daemon.report.document.ReportContent}.
 */
@NullMarked
package org.bankfire.daemon.report.burn;

import org.jspecify.annotations.NullMarked;
