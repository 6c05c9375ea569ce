package org.bankfire.analysis.outlook;

import java.util.List;
import org.bankfire.analysis.prediction.Band;

/**
 * Where the chamber goes while nobody touches anything. It is steady from the first moment on after which it changes, over
 * the next five minutes, by no more than the steady band allows in five minutes; soaked, when the lining takes no more heat,
 * which is hours later and may be far from where it is first steady.
 *
 * @param gaugePa the pressure that is held, Pa gauge
 * @param steadyKPerMin the steady band, K/min
 * @param already whether it is steady now
 * @param steadyK temperature when it is first steady, K; NaN when it will not be within the curve
 * @param untilS from now until then, s; 0 when it is steady already; value NaN and high end infinite when not within the curve
 * @param soakedK where it ends, K
 * @param curve at most {@value #MOST_POINTS} points from now on
 */
public record Settling(
        double gaugePa,
        double steadyKPerMin,
        boolean already,
        Band steadyK,
        Band untilS,
        Band soakedK,
        List<Point> curve) {
    /** More points than these a chart cannot show. */
    public static final int MOST_POINTS = 60;

    public Settling {
        curve = List.copyOf(curve);
    }

    /**
     * A point of the forecast.
     *
     * @param aheadS from now, s
     * @param chamberK what the probe will show, K
     */
    public record Point(double aheadS, Band chamberK) {}
}
