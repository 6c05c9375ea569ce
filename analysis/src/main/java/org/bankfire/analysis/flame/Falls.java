package org.bankfire.analysis.flame;

import org.bankfire.analysis.heat.Bar;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeRun;

/**
 * How far what the probe settles at will lie below what it would be with the flame, if the flame goes out now, and if the
 * rated stock is put in cold now; worked out by the forge model from its present state.
 */
final class Falls {
    /** Times since for which the falls are kept, s; straight lines between. */
    private static final double[] TIMES_S = {
        0, 0.1, 0.25, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 50, 60, 80, 100, 130, 160, 200
    };

    /** Thick enough to stay cold for the longest of these times: thinner bars are forgiven sooner. */
    private static final double BAR_M = 0.035;
    /**
     * A probe sees cold bars themselves beside the hot face: round bars show a third of their surface to one side (their
     * width over their girth is 1/π).
     */
    private static final double SEEN_PART = 1 / Math.PI;

    private final Bar stock;
    private final double seenShare;
    private final double[] flameOutK = new double[TIMES_S.length];
    private final double[] stockK = new double[TIMES_S.length];

    /**
     * Nothing falls yet.
     *
     * @param innerSurfaceM2 of the chamber, m²
     * @param ratedStockShare surface of the most cold stock that is put in at once over that surface
     */
    Falls(double innerSurfaceM2, double ratedStockShare) {
        double lengthM = ratedStockShare * innerSurfaceM2 / (Math.PI * BAR_M);
        stock = new Bar(BAR_M, Math.max(Bar.LENGTH_M.low(), Math.min(Bar.LENGTH_M.high(), lengthM)));
        seenShare = SEEN_PART * ratedStockShare;
    }

    /**
     * Works them out.
     *
     * @param now the forge now; not changed
     * @param gasKgPerS that flows
     * @param flameFactor on the heat of the flame
     * @param coldK temperature of cold stock, K
     */
    void from(ForgeRun now, double gasKgPerS, double flameFactor, double coldK) {
        ForgeRun burning = new ForgeRun(now);
        ForgeRun out = new ForgeRun(now);
        ForgeRun loaded = new ForgeRun(now);
        burning.fire(new Firing(gasKgPerS * flameFactor, true));
        out.fire(new Firing(gasKgPerS, false));
        loaded.fire(new Firing(gasKgPerS * flameFactor, true));
        loaded.stockIn(stock, coldK);
        double startS = now.timeS();
        for (int i = 1; i < TIMES_S.length; i++) {
            burning.advanceTo(startS + TIMES_S[i]);
            out.advanceTo(startS + TIMES_S[i]);
            loaded.advanceTo(startS + TIMES_S[i]);
            flameOutK[i] = burning.settledK() - out.settledK();
            double loadedK = loaded.settledK();
            // Of the radiation that arrives, the part that comes from the bars: to first order a quarter of it in
            // kelvin.
            double colder = 1 - Math.pow(loaded.stockSurfaceK() / loadedK, 4);
            stockK[i] = burning.settledK() - loadedK + seenShare / 4 * loadedK * Math.max(0, colder);
        }
    }

    /** Fall of a flame-out after so long, K, 0 or more. */
    double flameOutK(double seconds) {
        return at(flameOutK, seconds);
    }

    /** Fall by the rated stock after so long, K, 0 or more. */
    double stockK(double seconds) {
        return at(stockK, seconds);
    }

    private static double at(double[] values, double seconds) {
        int i = 1;
        while (i < TIMES_S.length - 1 && TIMES_S[i] < seconds) {
            i++;
        }
        double part = Math.min(1, (seconds - TIMES_S[i - 1]) / (TIMES_S[i] - TIMES_S[i - 1]));
        return Math.max(0, values[i - 1] + part * (values[i] - values[i - 1]));
    }
}
