package org.bankfire.daemon.config;

/**
 * Where something of the configuration stands.
 *
 * @param file name of the file, or {@code --set}
 * @param line from 1; 0 where there are no lines
 */
record Place(String file, int line) {}
