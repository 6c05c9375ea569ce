/**
 * The firmware notes held to what they say: their example lines, their links, and their sketch, compiled and run.
 */
@NullMarked
package org.bankfire.daemon.firmware;

import org.jspecify.annotations.NullMarked;
