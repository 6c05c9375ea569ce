@NullMarked
package org.bankfire.analysis.monitor;

import org.jspecify.annotations.NullMarked;
