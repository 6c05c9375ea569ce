/**
 * The virtual forge: a simulation for the demo and for tests, one forge or any number of them at random, with what is
 * true of each. Its equations are its own and shared with nothing in the analysis.
 */
@NullMarked
package org.bankfire.daemon.acquire.virtual;

import org.jspecify.annotations.NullMarked;
