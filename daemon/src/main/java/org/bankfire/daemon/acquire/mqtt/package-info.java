/**
 * Readings over MQTT, through Eclipse Paho.
 */
@NullMarked
package org.bankfire.daemon.acquire.mqtt;

import org.jspecify.annotations.NullMarked;
