/**
 * The lining: what its layers are made of and how heat goes through them in time.
 */
@NullMarked
package org.bankfire.analysis.lining;

import org.jspecify.annotations.NullMarked;
