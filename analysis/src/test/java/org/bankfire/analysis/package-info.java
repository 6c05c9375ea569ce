/** Rules and helpers that the tests of every package share. */
@NullMarked
package org.bankfire.analysis;

import org.jspecify.annotations.NullMarked;
