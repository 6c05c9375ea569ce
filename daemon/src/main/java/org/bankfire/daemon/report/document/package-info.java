/**
 * A report as a model that knows no format, and what writes it as a printable page and as a PDF. Charts are drawn once, in
 * strokes that both understand.
 */
@NullMarked
package org.bankfire.daemon.report.document;

import org.jspecify.annotations.NullMarked;
