package org.bankfire.analysis.fit;

/**
 * A temperature over time. Kelvin or degrees Celsius: the fits use differences and answer on the scale that they are given.
 */
public final class TemperatureSeries {
    /** Two more than the richest curve has unknowns, plus one for the noise. */
    public static final int FEWEST = 8;

    /** Since the first sample of the record. */
    private final double[] elapsedS;

    private final double[] temperatures;

    private TemperatureSeries(double[] elapsedS, double[] temperatures) {
        this.elapsedS = elapsedS;
        this.temperatures = temperatures;
    }

    /**
     * A series.
     *
     * @param timesS s from any origin, rising
     * @param temperatures K or °C, finite, one for each time
     */
    public static TemperatureSeries of(double[] timesS, double[] temperatures) {
        if (timesS.length != temperatures.length) {
            throw new IllegalArgumentException(timesS.length + " times and " + temperatures.length + " temperatures");
        }
        if (timesS.length < FEWEST) {
            throw new IllegalArgumentException(
                    timesS.length + " samples: at least " + FEWEST + " are needed for a curve");
        }
        for (int i = 0; i < timesS.length; i++) {
            if (!Double.isFinite(temperatures[i]) || !Double.isFinite(timesS[i])) {
                throw new IllegalArgumentException("sample " + i + " is " + temperatures[i] + " at " + timesS[i]
                        + " s: finite numbers are allowed");
            }
            if (i > 0 && !(timesS[i] > timesS[i - 1])) {
                throw new IllegalArgumentException("sample " + i + " at " + timesS[i] + " s does not follow "
                        + timesS[i - 1] + " s: times must rise");
            }
        }
        double[] elapsedS = new double[timesS.length];
        for (int i = 0; i < timesS.length; i++) {
            elapsedS[i] = timesS[i] - timesS[0];
        }
        return new TemperatureSeries(elapsedS, temperatures.clone());
    }

    /** Of times since some earlier sample, good ones. */
    static TemperatureSeries ofElapsed(double[] elapsedS, double[] temperatures) {
        return new TemperatureSeries(elapsedS, temperatures);
    }

    /** How many samples. */
    public int size() {
        return elapsedS.length;
    }

    /** To the last sample from the first of the record, s. */
    public double spanS() {
        return elapsedS[elapsedS.length - 1];
    }

    /** Since the first sample, s. */
    double[] elapsedS() {
        return elapsedS;
    }

    double[] temperatures() {
        return temperatures;
    }
}
