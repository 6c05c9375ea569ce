package org.bankfire.analysis.flame;

/** The last minutes, one value each quarter second; {@code back} counts from the newest, which is 0. */
final class Trace {
    private static final double MICROS_PER_S = 1e6;
    /** 190 s of the longest horizon and 8 s of baseline at 4 Hz need 792. */
    private static final int CAPACITY = 1 << 10;

    private final long[] times = new long[CAPACITY];
    private final double[] measured = new double[CAPACITY];
    private final double[] expected = new double[CAPACITY];
    private final double[] flows = new double[CAPACITY];
    private final double[] settling = new double[CAPACITY];
    private final double[] residuals = new double[CAPACITY];
    private int newest = -1;
    private int size;

    /**
     * Adds one.
     *
     * @param at event time, µs
     * @param measuredC what the probe shows
     * @param expectedC what it should settle at
     * @param flowKgPerS gas that flows
     */
    void add(long at, double measuredC, double expectedC, double flowKgPerS) {
        newest = (newest + 1) & (CAPACITY - 1);
        size = Math.min(size + 1, CAPACITY);
        times[newest] = at;
        measured[newest] = measuredC;
        expected[newest] = expectedC;
        flows[newest] = flowKgPerS;
    }

    /** Forgets all but the newest {@code count}. */
    void keep(int count) {
        size = Math.min(size, count);
    }

    int size() {
        return size;
    }

    /** Event time, µs. */
    long time(int back) {
        return times[place(back)];
    }

    double measuredC(int back) {
        return measured[place(back)];
    }

    /** What the probe should settle at. */
    double expectedC(int back) {
        return expected[place(back)];
    }

    double flowKgPerS(int back) {
        return flows[place(back)];
    }

    /** What the probe is heading for. */
    double settlingC(int back) {
        return settling[place(back)];
    }

    /** What the probe is heading for less what it should settle at. */
    double residualK(int back) {
        return residuals[place(back)];
    }

    /** Takes down what the probe is heading for. */
    void heading(int back, double settlingC, double residualK) {
        settling[place(back)] = settlingC;
        residuals[place(back)] = residualK;
    }

    /** What was expected, worked out again. */
    void expect(int back, double expectedC) {
        expected[place(back)] = expectedC;
    }

    /** Steps back from {@code from} to the newest that is not after {@code at}; the oldest when all are. */
    int backTo(long at, int from) {
        int back = from;
        while (back + 1 < size && time(back) > at) {
            back++;
        }
        return back;
    }

    /** Whether it reaches back to {@code at}. */
    boolean reaches(long at) {
        return size > 0 && time(size - 1) <= at;
    }

    /** From {@code back} to the newest, s. */
    double ageS(int back) {
        return (times[newest] - time(back)) / MICROS_PER_S;
    }

    private int place(int back) {
        return (newest - back) & (CAPACITY - 1);
    }
}
