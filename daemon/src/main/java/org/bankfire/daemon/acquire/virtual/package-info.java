/**
 * The virtual forge: a simulation for the demo and for whole-path tests. Its equations are its own and shared with
 * nothing in the analysis.
 */
@NullMarked
package org.bankfire.daemon.acquire.virtual;

import org.jspecify.annotations.NullMarked;
