/**
 * What a forge will do: heat-up, steady state, idle and gas, from its description, a gas programme and the stated doubts
 * about both.
 */
@NullMarked
package org.bankfire.analysis.prediction;

import org.jspecify.annotations.NullMarked;
