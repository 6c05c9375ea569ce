package org.bankfire.daemon.acquire.virtual;

/**
 * Where the virtual forge's heat has gone since it was last set to a temperature. All in joules.
 *
 * @param releasedJ set free by the flame
 * @param flueJ carried out by the gas that left, above ambient
 * @param openingsJ radiated out through the openings
 * @param shellJ given off by the frame to the room
 * @param stockJ taken by bars
 * @param heldJ held by lining and frame above 0 °C at this moment: its change is what was stored
 */
record HeatLedger(double releasedJ, double flueJ, double openingsJ, double shellJ, double stockJ, double heldJ) {}
