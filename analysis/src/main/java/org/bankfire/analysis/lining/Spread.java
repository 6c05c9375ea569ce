package org.bankfire.analysis.lining;

/**
 * How the way of the heat widens from the hot face outwards: a flat wall keeps its area, the wall around a box gains some
 * at the edges and corners.
 */
public sealed interface Spread {
    /**
     * Area that the heat passes through at a depth below the hot face.
     *
     * @param depthM m, 0 or more
     * @return m²
     */
    double areaM2(double depthM);

    /**
     * Thermal resistance from the hot face to a depth, times the conductivity: the integral of 1/area.
     *
     * @param depthM m, 0 or more
     * @return 1/m
     */
    double shapeResistancePerM(double depthM);

    /**
     * A flat wall.
     *
     * @param areaM2 above 0
     */
    record Plane(double areaM2) implements Spread {
        public Plane {
            if (!(areaM2 > 0)) {
                throw new IllegalArgumentException("area of a wall is " + areaM2 + " m²: it must be above 0");
            }
        }

        @Override
        public double areaM2(double depthM) {
            return areaM2;
        }

        @Override
        public double shapeResistancePerM(double depthM) {
            return depthM / areaM2;
        }
    }

    /**
     * The wall of constant thickness around a box. Its conduction shape factor to the depth x is that of Langmuir, Adams
     * and Meikle (1913), S = A/x + 0.54 ΣE + 8 · 0.15 x, as in Incropera, Fundamentals of Heat and Mass Transfer, table
     * 4.1 (valid while x is below five times the shortest side); the area follows from it, so that the steady heat is
     * right at every depth. The heat stored in the corners is a little underestimated early and overestimated late.
     *
     * @param faceM2 hot face without openings, above 0
     * @param edgesM length of the box's twelve inner edges together, m, 0 or more
     */
    record Box(double faceM2, double edgesM) implements Spread {
        private static final double EDGE = 0.54;
        private static final double CORNERS = 8 * 0.15;
        /** The formula for the area ends where its denominator does; no wall is so thick for its chamber. */
        private static final double LEAST_DENOMINATOR = 0.2;

        public Box {
            if (!(faceM2 > 0 && edgesM >= 0)) {
                throw new IllegalArgumentException(
                        "hot face of " + faceM2 + " m² and edges of " + edgesM + " m: they must be above 0");
            }
        }

        @Override
        public double areaM2(double depthM) {
            double reach = reach(depthM);
            return reach * reach / Math.max(LEAST_DENOMINATOR * faceM2, faceM2 - CORNERS * depthM * depthM);
        }

        @Override
        public double shapeResistancePerM(double depthM) {
            return depthM / reach(depthM);
        }

        private double reach(double depthM) {
            return faceM2 + EDGE * edgesM * depthM + CORNERS * depthM * depthM;
        }
    }
}
