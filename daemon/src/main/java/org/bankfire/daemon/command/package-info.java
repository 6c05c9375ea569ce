/**
 * The command line: one class a subcommand.
 */
@NullMarked
package org.bankfire.daemon.command;

import org.jspecify.annotations.NullMarked;
