/**
 * Fuel gases, the cylinder that they come from, their flow through the jet, and the pressure of the air that they flow
 * into.
 */
@NullMarked
package org.bankfire.analysis.gas;

import org.jspecify.annotations.NullMarked;
