@NullMarked
package org.bankfire.analysis.flutter;

import org.jspecify.annotations.NullMarked;
