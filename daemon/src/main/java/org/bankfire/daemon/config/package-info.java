/**
 * The configuration file as typed records, with errors that name file, line, key and what is allowed.
 */
@NullMarked
package org.bankfire.daemon.config;

import org.jspecify.annotations.NullMarked;
