/**
 * What the dashboard reads and asks for, declared here and implemented by the daemon.
 */
@NullMarked
package org.bankfire.dashboard.source;

import org.jspecify.annotations.NullMarked;
