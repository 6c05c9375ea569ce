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
     * <p>In a wall that is thick for its chamber the formula turns round: beyond a depth of √(A / 1.2) it says that more
     * wall insulates less. It is left before that, at √(A / 2.4), 1.6 sides of a cube; from there on the area grows as the
     * outside of a box does.
     *
     * @param faceM2 hot face without openings, above 0
     * @param edgesM length of the box's twelve inner edges together, m, 0 or more
     */
    record Box(double faceM2, double edgesM) implements Spread {
        private static final double EDGE = 0.54;
        private static final double CORNERS = 8 * 0.15;
        /** What must be left of the face in the denominator of the area, as a share of the face. */
        private static final double LEAST_DENOMINATOR = 0.5;

        public Box {
            if (!(faceM2 > 0 && edgesM >= 0)) {
                throw new IllegalArgumentException("hot face of " + faceM2 + " m² and edges of " + edgesM
                        + " m: allowed are above 0 and 0 or more");
            }
        }

        @Override
        public double areaM2(double depthM) {
            double kneeM = kneeM();
            double insideM = Math.min(depthM, kneeM);
            double reach = reach(insideM);
            double widening = depthM > kneeM ? fromCentreM(depthM) / fromCentreM(kneeM) : 1;
            return reach * reach / (faceM2 - CORNERS * insideM * insideM) * widening * widening;
        }

        @Override
        public double shapeResistancePerM(double depthM) {
            double kneeM = kneeM();
            if (depthM <= kneeM) {
                return depthM / reach(depthM);
            }
            double centreToKneeM = fromCentreM(kneeM);
            return kneeM / reach(kneeM) + centreToKneeM / areaM2(kneeM) * (1 - centreToKneeM / fromCentreM(depthM));
        }

        private double kneeM() {
            return Math.sqrt((1 - LEAST_DENOMINATOR) * faceM2 / CORNERS);
        }

        /** Distance from the middle of a cube of that face. */
        private double fromCentreM(double depthM) {
            return depthM + Math.sqrt(faceM2 / 24);
        }

        private double reach(double depthM) {
            return faceM2 + EDGE * edgesM * depthM + CORNERS * depthM * depthM;
        }
    }
}
