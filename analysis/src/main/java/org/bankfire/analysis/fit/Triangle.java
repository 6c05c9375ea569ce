package org.bankfire.analysis.fit;

/**
 * The upper triangle R of [J r] = Q R by Householder's reflections (Golub and Van Loan, <i>Matrix Computations</i>, section
 * 5.2). J and r enter a least-squares step and its covariance only through R, whose size does not grow with the record; the
 * work is done on whole columns, which the compiler can do several numbers at a time.
 */
final class Triangle {
    private Triangle() {}

    /**
     * Reduces in place.
     *
     * @param columns of J, n long; overwritten
     * @param last r; overwritten
     * @return one row more than J has columns, each of that length too; zero where n is shorter
     */
    static double[][] reduce(double[][] columns, double[] last) {
        int size = columns.length;
        int n = last.length;
        double[][] triangle = new double[size + 1][size + 1];
        for (int k = 0; k < Math.min(size, n); k++) {
            double[] column = columns[k];
            double norm = Math.sqrt(dot(column, column, k));
            double top = column[k];
            if (norm > 0) {
                triangle[k][k] = top > 0 ? -norm : norm;
                column[k] = top - triangle[k][k];
                double factor = 1 / (norm * (norm + Math.abs(top)));
                for (int j = k + 1; j < size; j++) {
                    subtract(column, factor * dot(column, columns[j], k), columns[j], k);
                }
                subtract(column, factor * dot(column, last, k), last, k);
            }
            for (int j = k + 1; j < size; j++) {
                triangle[k][j] = columns[j][k];
            }
            triangle[k][size] = last[k];
        }
        triangle[size][size] = n > size ? Math.sqrt(dot(last, last, size)) : 0;
        return triangle;
    }

    /** Four sums at a time: an addition need not wait for the one before. */
    static double dot(double[] a, double[] b, int from) {
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        int i = from;
        for (; i < a.length - 3; i += 4) {
            s0 += a[i] * b[i];
            s1 += a[i + 1] * b[i + 1];
            s2 += a[i + 2] * b[i + 2];
            s3 += a[i + 3] * b[i + 3];
        }
        for (; i < a.length; i++) {
            s0 += a[i] * b[i];
        }
        return s0 + s1 + (s2 + s3);
    }

    private static void subtract(double[] reflector, double times, double[] from, int first) {
        for (int i = first; i < from.length; i++) {
            from[i] -= times * reflector[i];
        }
    }
}
