package org.bankfire.analysis.combustion;

import java.util.Arrays;

/** The iteration behind {@link Equilibrium}, where the method is told. Confined to one call. */
final class EquilibriumNewton {
    /** The gases that burnt gas is made of here. */
    static final Species[] PRODUCTS = {
        Species.CARBON_DIOXIDE,
        Species.CARBON_MONOXIDE,
        Species.WATER,
        Species.HYDROGEN,
        Species.HYDROXYL,
        Species.OXYGEN,
        Species.OXYGEN_ATOM,
        Species.HYDROGEN_ATOM,
        Species.NITRIC_OXIDE,
        Species.NITROGEN
    };

    /** Carbon, hydrogen, nitrogen and excess oxygen. */
    private static final int CONSERVED = 4;
    /** The worst case of a fine grid over all mixtures, temperatures and pressures that are let in takes a fifth of this. */
    private static final int MAX_ITERATIONS = 300;
    /** Greatest step of any logarithm of moles at which the composition counts as found. */
    private static final double TOLERANCE = 1e-9;

    private static final double STANDARD_PRESSURE_PA = 1e5;
    /** Start of every gas: equal shares of the one mole, about, that there is. */
    private static final double LOG_START = -Math.log(PRODUCTS.length);
    /** Logarithm of the mole fraction below which a gas is rare, and of that to which it may rise in a step (3.2). */
    private static final double LOG_RARE = -18.420681;

    private static final double LOG_RARE_RISE = -9.2103404;
    /** A step may change a logarithm of moles by 2, that of the total by 0.4 (3.1). */
    private static final double GREATEST_STEP = 2;

    /** What a molecule of each product holds of each conserved quantity. */
    private static final double[][] CONTENT = new double[PRODUCTS.length][];

    static {
        for (int k = 0; k < PRODUCTS.length; k++) {
            Species product = PRODUCTS[k];
            CONTENT[k] = new double[] {
                product.carbon(),
                product.hydrogen(),
                product.nitrogen(),
                product.oxygen() - 2 * product.carbon() - product.hydrogen() / 2.0
            };
        }
    }

    private final double[] conserved;
    private final double scale;
    private final double[] standardPotential = new double[PRODUCTS.length];
    private final double[] logMoles = new double[PRODUCTS.length];
    private final double[] moles = new double[PRODUCTS.length];
    private final double[] logStep = new double[PRODUCTS.length];
    private final double[][] system = new double[CONSERVED + 1][CONSERVED + 2];
    private final double[] solution = new double[CONSERVED + 1];
    private double logTotal;

    /**
     * @param conserved moles of C, H, N and excess O atoms; the amount of mixture is free
     * @param temperatureK K
     * @param pressurePa Pa absolute
     */
    EquilibriumNewton(double[] conserved, double temperatureK, double pressurePa) {
        // About one mole of gas in all, which is what the start and the damping are made for.
        scale = 2 / Arrays.stream(conserved).limit(CONSERVED - 1).sum();
        this.conserved = Arrays.stream(conserved).map(atoms -> atoms * scale).toArray();
        double logPressure = Math.log(pressurePa / STANDARD_PRESSURE_PA);
        for (int k = 0; k < PRODUCTS.length; k++) {
            standardPotential[k] = PRODUCTS[k].gibbsOverRt(temperatureK) + logPressure;
        }
        Arrays.fill(logMoles, LOG_START);
    }

    /** Moles of a product, on a scale of its own. */
    double moles(int product) {
        return moles[product];
    }

    /** Moles of all products together, on the same scale. */
    double total() {
        return Math.exp(logTotal);
    }

    /** Moles per unit of what was given as conserved. */
    double scale() {
        return scale;
    }

    /** Iterates until nothing moves. */
    void solve() {
        for (int iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
            assemble();
            eliminate(system, solution);
            if (step() < TOLERANCE) {
                updateMoles();
                return;
            }
        }
        throw new ArithmeticException("no equilibrium after " + MAX_ITERATIONS + " iterations for moles of C, H, N and"
                + " excess O of " + Arrays.toString(conserved));
    }

    private void updateMoles() {
        for (int k = 0; k < PRODUCTS.length; k++) {
            moles[k] = Math.exp(logMoles[k]);
        }
    }

    /** Equations 2.24 and 2.26 of RP-1311, the right side as the last column. */
    private void assemble() {
        updateMoles();
        for (double[] row : system) {
            Arrays.fill(row, 0);
        }
        double total = total();
        double sum = 0;
        for (int k = 0; k < PRODUCTS.length; k++) {
            double potential = potential(k);
            sum += moles[k];
            for (int i = 0; i < CONSERVED; i++) {
                double part = CONTENT[k][i] * moles[k];
                for (int j = 0; j < CONSERVED; j++) {
                    system[i][j] += part * CONTENT[k][j];
                }
                system[i][CONSERVED] += part;
                system[CONSERVED][i] += part;
                system[i][CONSERVED + 1] += part * (potential - 1);
            }
            system[CONSERVED][CONSERVED + 1] += moles[k] * potential;
        }
        system[CONSERVED][CONSERVED] = sum - total;
        system[CONSERVED][CONSERVED + 1] += total - sum;
        for (int i = 0; i < CONSERVED; i++) {
            system[i][CONSERVED + 1] += conserved[i];
        }
    }

    /** Chemical potential over RT. */
    private double potential(int product) {
        return standardPotential[product] + logMoles[product] - logTotal;
    }

    /** Takes the step, damped, and returns the largest change of a logarithm that Newton asked for. */
    private double step() {
        double logTotalStep = solution[CONSERVED];
        double largest = Math.abs(logTotalStep);
        double damping = GREATEST_STEP / Math.max(GREATEST_STEP, 5 * Math.abs(logTotalStep));
        for (int k = 0; k < PRODUCTS.length; k++) {
            double change = logTotalStep - potential(k);
            for (int i = 0; i < CONSERVED; i++) {
                change += CONTENT[k][i] * solution[i];
            }
            logStep[k] = change;
            largest = Math.max(largest, Math.abs(change));
            double logFraction = logMoles[k] - logTotal;
            if (logFraction > LOG_RARE) {
                damping = Math.min(damping, GREATEST_STEP / Math.max(GREATEST_STEP, Math.abs(change)));
            } else if (change > logTotalStep && logFraction + change - logTotalStep > LOG_RARE_RISE) {
                damping = Math.min(damping, (LOG_RARE_RISE - logFraction) / (change - logTotalStep));
            }
        }
        logTotal += damping * logTotalStep;
        for (int k = 0; k < PRODUCTS.length; k++) {
            logMoles[k] += damping * logStep[k];
        }
        return largest;
    }

    /**
     * Gaussian elimination of the symmetric system with row pivots, each unknown scaled to a unit diagonal first, for the
     * smallest may honestly be 1e-20 of the others. Done here because five unknowns want thirty lines, and a library new
     * matrices in every step.
     */
    private static void eliminate(double[][] system, double[] solution) {
        int n = solution.length;
        double[] scale = new double[n];
        for (int i = 0; i < n; i++) {
            // The total's own diagonal vanishes at the solution; its neighbours are of the order of one mole.
            scale[i] = i < CONSERVED ? 1 / Math.sqrt(system[i][i]) : 1;
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                system[i][j] *= scale[i] * scale[j];
            }
            system[i][n] *= scale[i];
        }
        for (int column = 0; column < n; column++) {
            int pivot = column;
            for (int row = column + 1; row < n; row++) {
                pivot = Math.abs(system[row][column]) > Math.abs(system[pivot][column]) ? row : pivot;
            }
            double[] top = system[pivot];
            system[pivot] = system[column];
            system[column] = top;
            for (int row = column + 1; row < n; row++) {
                double factor = system[row][column] / top[column];
                for (int j = column; j <= n; j++) {
                    system[row][j] -= factor * top[j];
                }
            }
        }
        for (int row = n - 1; row >= 0; row--) {
            double value = system[row][n];
            for (int j = row + 1; j < n; j++) {
                value -= system[row][j] * solution[j];
            }
            solution[row] = value / system[row][row];
        }
        for (int i = 0; i < n; i++) {
            solution[i] *= scale[i];
        }
    }
}
