/**
 * Results of the analysis as a reader or a script wants them: plain text, JSON, CSV and charts. No command line here, and no
 * files.
 */
@NullMarked
package org.bankfire.daemon.report;

import org.jspecify.annotations.NullMarked;
