/**
 * Tells alarms elsewhere: to a broker, a web address, a mail server, a program of the user's own. Each output has a
 * thread and a bounded queue of its own, so that none holds up another, the record or the alarms.
 */
@NullMarked
package org.bankfire.daemon.notify;

import org.jspecify.annotations.NullMarked;
