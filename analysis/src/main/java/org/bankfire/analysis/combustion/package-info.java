/**
 * What a fuel turns into when it burns in air: heat, flue gas, flame temperature and, when air is short, carbon monoxide;
 * and the mixture that an atmospheric burner draws.
 */
@NullMarked
package org.bankfire.analysis.combustion;

import org.jspecify.annotations.NullMarked;
