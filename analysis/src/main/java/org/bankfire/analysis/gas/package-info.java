/**
 * Fuel gases and their flow through the jet, and the gauge pressure that a transducer reports.
 */
@NullMarked
package org.bankfire.analysis.gas;

import org.jspecify.annotations.NullMarked;
