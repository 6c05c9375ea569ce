@NullMarked
package org.bankfire.analysis.burn;

import org.jspecify.annotations.NullMarked;
