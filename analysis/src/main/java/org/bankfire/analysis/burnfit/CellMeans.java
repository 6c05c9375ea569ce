package org.bankfire.analysis.burnfit;

import java.util.Arrays;

/** Means of one quantity in even cells of time. It takes no more room than the cells that were used so far need. */
final class CellMeans {
    /** Four minutes by the second: a fleet in which all are lit at once begins small. */
    private static final int FIRST_LENGTH = 256;

    private final int most;
    private double[] sums = {};
    private int[] counts = {};

    /** @param most cells, a power of two of {@value #FIRST_LENGTH} or more */
    CellMeans(int most) {
        this.most = most;
    }

    void add(int cell, double value) {
        if (cell >= sums.length) {
            int length = Math.min(most, Math.max(FIRST_LENGTH, 2 * Integer.highestOneBit(Math.max(1, cell))));
            sums = Arrays.copyOf(sums, length);
            counts = Arrays.copyOf(counts, length);
        }
        sums[cell] += value;
        counts[cell]++;
    }

    /** Values in a cell. */
    int count(int cell) {
        return cell < counts.length ? counts[cell] : 0;
    }

    /** NaN for a cell without values. */
    double mean(int cell) {
        return count(cell) > 0 ? sums[cell] / counts[cell] : Double.NaN;
    }

    /** Makes each cell twice as long. */
    void joinPairs() {
        int half = sums.length / 2;
        for (int i = 0; i < half; i++) {
            sums[i] = sums[2 * i] + sums[2 * i + 1];
            counts[i] = counts[2 * i] + counts[2 * i + 1];
        }
        Arrays.fill(sums, half, sums.length, 0);
        Arrays.fill(counts, half, counts.length, 0);
    }
}
