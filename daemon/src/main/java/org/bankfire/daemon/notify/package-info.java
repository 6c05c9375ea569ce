/**
 * Outputs for alarms outside the page.
 */
@NullMarked
package org.bankfire.daemon.notify;

import org.jspecify.annotations.NullMarked;
