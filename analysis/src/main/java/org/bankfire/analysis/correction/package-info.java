/**
 * The measurement chain: what a source reports becomes the corrected reading of a channel, with its uncertainty and
 * quality. Raw readings are kept beside the corrected ones.
 */
@NullMarked
package org.bankfire.analysis.correction;

import org.jspecify.annotations.NullMarked;
