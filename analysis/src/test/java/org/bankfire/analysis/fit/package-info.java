@NullMarked
package org.bankfire.analysis.fit;

import org.jspecify.annotations.NullMarked;
