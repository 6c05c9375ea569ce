/**
 * What a forge really is, from a recorded burn: the forge's model fitted to the record, what the record can tell and what
 * it cannot, and how both compare with the prediction.
 */
@NullMarked
package org.bankfire.analysis.burnfit;

import org.jspecify.annotations.NullMarked;
