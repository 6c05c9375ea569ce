/**
 * Type K thermocouples: the ITS-90 reference function both ways, amplifiers, tolerance classes and wire limits.
 */
@NullMarked
package org.bankfire.analysis.thermocouple;

import org.jspecify.annotations.NullMarked;
