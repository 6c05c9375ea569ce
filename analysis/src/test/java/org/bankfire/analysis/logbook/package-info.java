@NullMarked
package org.bankfire.analysis.logbook;

import org.jspecify.annotations.NullMarked;
