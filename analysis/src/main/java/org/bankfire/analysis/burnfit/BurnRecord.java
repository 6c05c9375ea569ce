package org.bankfire.analysis.burnfit;

import java.util.List;

/**
 * One burn as the fit sees it: the record in stretches of time, each with its means. Immutable.
 *
 * @param stretches in rising time, each beginning where the one before it ends
 * @param samples chamber readings in them
 * @param weighedGasKg gas used by the cylinder's mass; NaN when it was not weighed
 * @param weighedUncertaintyKg its standard uncertainty, kg; NaN likewise
 */
public record BurnRecord(List<Stretch> stretches, long samples, double weighedGasKg, double weighedUncertaintyKg) {
    public BurnRecord {
        stretches = List.copyOf(stretches);
        for (int i = 1; i < stretches.size(); i++) {
            if (stretches.get(i).startS() != stretches.get(i - 1).endS()) {
                throw new IllegalArgumentException("stretch " + i + " begins at "
                        + stretches.get(i).startS() + " s: it must begin at "
                        + stretches.get(i - 1).endS() + " s, where the one before it ends");
            }
        }
    }

    /**
     * A stretch of time.
     *
     * @param startS since the burn's start, s
     * @param endS after {@code startS}, s
     * @param chamberK mean of the good chamber readings, K; NaN when there is none
     * @param samples how many those are
     * @param gaugePa mean gas pressure, Pa gauge; NaN when nothing is known of it
     * @param ambientK of the surroundings, K; NaN when not measured
     * @param lit whether the burner burns while gas flows
     * @param plugIn whether the plug is in
     * @param stockIn whether stock is in
     */
    public record Stretch(
            double startS,
            double endS,
            double chamberK,
            int samples,
            double gaugePa,
            double ambientK,
            boolean lit,
            boolean plugIn,
            boolean stockIn) {
        public Stretch {
            if (!(endS > startS)) {
                throw new IllegalArgumentException("stretch from " + startS + " s to " + endS + " s");
            }
        }

        /** Length, s. */
        public double lengthS() {
            return endS - startS;
        }
    }

    /** Whether gas pressure is known anywhere. */
    public boolean hasPressure() {
        return stretches.stream().anyMatch(stretch -> !Double.isNaN(stretch.gaugePa()));
    }

    /** End of the record, s; 0 when it is empty. */
    public double endS() {
        return stretches.isEmpty() ? 0 : stretches.get(stretches.size() - 1).endS();
    }
}
