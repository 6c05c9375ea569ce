/**
 * What the daemon does in a second, each figure beside what a user would otherwise do, measured in the same run. One command
 * runs all and prints one table; a small part of it runs with every build, for what it counts and not for how fast it is.
 */
@NullMarked
package org.bankfire.daemon.figures;

import org.jspecify.annotations.NullMarked;
