package org.bankfire.analysis.steady;

/**
 * Readings gathered into means over five seconds, the last {@value #CAPACITY} of them: bounded whatever the rate of the
 * readings, and quiet of what flickers faster. A source slower than that makes a block of each reading.
 */
final class BlockMeans {
    /** Longer than flutter and a probe's own noise, shorter than anything that a regulator does. */
    static final double BLOCK_S = 5;

    /** Ten minutes of blocks. */
    static final int CAPACITY = 120;

    private static final long BLOCK_MICROS = Math.round(BLOCK_S * 1e6);

    /** Steps smaller than this are rounding, K. */
    private static final double ROUNDING_K = 1e-3;

    private static final double MICROS_PER_S = 1e6;

    final double[] timesS = new double[CAPACITY];
    final double[] means = new double[CAPACITY];
    private int size;
    private long origin;
    private long first;
    private long last;
    private long lastClosed;
    private int count;
    private double sumTimesS;
    private double sum;
    private double previous = Double.NaN;
    private double smallestStep = Double.POSITIVE_INFINITY;

    /**
     * Takes a reading, not before the last one.
     *
     * @return whether a block was completed by it
     */
    boolean add(long atMicros, double value) {
        boolean closes = count > 0 && atMicros - first >= BLOCK_MICROS;
        if (closes) {
            close();
        }
        if (count == 0) {
            first = atMicros;
            if (size == 0) {
                origin = atMicros;
            }
        }
        count++;
        sumTimesS += (atMicros - origin) / MICROS_PER_S;
        sum += value;
        last = atMicros;
        double step = Math.abs(value - previous);
        if (step > ROUNDING_K && step < smallestStep) {
            smallestStep = step;
        }
        previous = value;
        return closes;
    }

    private void close() {
        if (size == CAPACITY) {
            System.arraycopy(timesS, 1, timesS, 0, CAPACITY - 1);
            System.arraycopy(means, 1, means, 0, CAPACITY - 1);
            size--;
        }
        timesS[size] = sumTimesS / count;
        means[size] = sum / count;
        size++;
        lastClosed = last;
        count = 0;
        sumTimesS = 0;
        sum = 0;
    }

    /** Forgets all but how finely the readings are told, which is the converter's. */
    void clear() {
        size = 0;
        count = 0;
        sumTimesS = 0;
        sum = 0;
        previous = Double.NaN;
    }

    int size() {
        return size;
    }

    boolean isEmpty() {
        return size == 0 && count == 0;
    }

    /** Time of the last reading, µs; only when there is one. */
    long last() {
        return last;
    }

    /** Time of the last reading of the newest block, µs. */
    long lastClosed() {
        return lastClosed;
    }

    /** Middle of a window of the newest blocks, µs. */
    long middle(int blocks) {
        return origin + Math.round((timesS[size - blocks] + timesS[size - 1]) / 2 * MICROS_PER_S);
    }

    /** Seconds that the newest blocks cover, one block of two or more. */
    double spanS(int blocks) {
        return (timesS[size - 1] - timesS[size - blocks]) * blocks / (blocks - 1);
    }

    /** Smallest step between readings that was ever seen, K; infinite before there was one. */
    double smallestStep() {
        return smallestStep;
    }
}
