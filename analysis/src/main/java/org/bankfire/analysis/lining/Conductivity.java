package org.bankfire.analysis.lining;

import java.util.List;
import org.bankfire.analysis.lining.Material.ConductivityPoint;

/** Conductivity over temperature, ready for fast use: straight lines between the points, constant outside. */
final class Conductivity {
    private final double[] temperaturesK;
    private final double[] values;
    private final double[] slopes;

    Conductivity(List<ConductivityPoint> points) {
        int count = points.size();
        temperaturesK = new double[count];
        values = new double[count];
        slopes = new double[count];
        for (int i = 0; i < count; i++) {
            temperaturesK[i] = points.get(i).temperatureK();
            values[i] = points.get(i).conductivityWPerMK();
        }
        for (int i = 0; i < count - 1; i++) {
            slopes[i] = (values[i + 1] - values[i]) / (temperaturesK[i + 1] - temperaturesK[i]);
        }
    }

    /** W/(m K) at a temperature in K. */
    double at(double temperatureK) {
        int last = temperaturesK.length - 1;
        if (temperatureK <= temperaturesK[0]) {
            return values[0];
        }
        if (temperatureK >= temperaturesK[last]) {
            return values[last];
        }
        // A material has a handful of points: a look at each is quicker than a search.
        int i = last - 1;
        while (temperatureK < temperaturesK[i]) {
            i--;
        }
        return values[i] + slopes[i] * (temperatureK - temperaturesK[i]);
    }
}
