@NullMarked
package org.bankfire.analysis.alarm;

import org.jspecify.annotations.NullMarked;
