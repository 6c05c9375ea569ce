/**
 * How unsteadily a flame burns: the fast part of pressure and temperature, its strength, and what is usual for a burner as
 * it is set.
 */
@NullMarked
package org.bankfire.analysis.flutter;

import org.jspecify.annotations.NullMarked;
