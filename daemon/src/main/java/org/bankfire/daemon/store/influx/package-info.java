/**
 * The log book on an InfluxDB server, through its Java client. {@link org.bankfire.daemon.store.influx.LineEncoder} says
 * how it lies there.
 */
@NullMarked
package org.bankfire.daemon.store.influx;

import org.jspecify.annotations.NullMarked;
