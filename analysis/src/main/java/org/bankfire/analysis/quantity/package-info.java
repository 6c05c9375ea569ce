/**
 * What all physical quantities have in common: the range in which a value is believed.
 */
@NullMarked
package org.bankfire.analysis.quantity;

import org.jspecify.annotations.NullMarked;
