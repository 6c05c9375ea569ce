/**
 * The forge as a balance of heat: chamber gas, hot face, openings, stock, lining, outer face and probe, and where every
 * watt goes. What pressure and time make of it is the business of {@code prediction}.
 */
@NullMarked
package org.bankfire.analysis.heat;

import org.jspecify.annotations.NullMarked;
