package org.bankfire.analysis.flame;

/**
 * The k-th smallest of some values without sorting them all: C. A. R. Hoare, "Algorithm 65: Find", Communications of the
 * ACM 4 (1961) 321–322. Four times a second for every forge, a median needs no more.
 */
final class Selection {
    private Selection() {}

    /**
     * Finds one of the first {@code n} values, none of them NaN, and puts those that are not larger before it and those
     * that are not smaller behind it.
     *
     * @param k 0 for the smallest, up to {@code n} − 1
     */
    static double smallest(double[] values, int n, int k) {
        int left = 0;
        int right = n - 1;
        while (left < right) {
            double pivot = values[k];
            int i = left;
            int j = right;
            do {
                while (values[i] < pivot) {
                    i++;
                }
                while (pivot < values[j]) {
                    j--;
                }
                if (i <= j) {
                    double swapped = values[i];
                    values[i] = values[j];
                    values[j] = swapped;
                    i++;
                    j--;
                }
            } while (i <= j);
            if (j < k) {
                left = i;
            }
            if (k < i) {
                right = j;
            }
        }
        return values[k];
    }
}
