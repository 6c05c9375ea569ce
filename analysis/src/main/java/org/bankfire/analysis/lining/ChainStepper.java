package org.bankfire.analysis.lining;

/**
 * Moves a {@link HeatChain} through time by ROS2, the two-stage Rosenbrock method of J. G. Verwer, E. J. Spee, J. G. Blom
 * and W. Hundsdorfer, "A second-order Rosenbrock method applied to photochemical dispersion problems", SIAM J. Sci.
 * Comput. 20 (1999) 1456–1480: implicit and L-stable, second order in the time step whatever slopes it is given, and exact
 * in every sum that the equations keep. So energy is conserved to rounding at every step, also with conductivities that
 * depend on temperature, and also when a slope is approximate.
 *
 * <p>Two tridiagonal systems are solved a step; there is no iteration. Nothing is allocated after construction.
 */
public final class ChainStepper {
    private static final double GAMMA = 1 - Math.sqrt(0.5);

    private final HeatChain chain;
    private final HeatChain.Flows flows;
    private final int[] ports;
    private final double[] heatJ;
    private final double[] nextHeatJ;
    private final double[] temperatureK;
    private final double[] nextTemperatureK;
    private final double[] capacityJPerK;
    private final double[] spareCapacityJPerK;
    private final double[] firstK;
    private final double[] secondK;
    private final double[] pivot;
    private final double[] tallyJ;
    private final double[] firstTallyW;
    private final double[] stepTallyJ;

    /** A stepper of a chain whose nodes hold this heat, J. */
    public ChainStepper(HeatChain chain, double[] heatJ) {
        if (heatJ.length != chain.nodes()) {
            throw new IllegalArgumentException(heatJ.length + " heats for " + chain.nodes() + " nodes");
        }
        this.chain = chain;
        this.heatJ = heatJ.clone();
        flows = new HeatChain.Flows(chain);
        ports = chain.ports();
        int nodes = chain.nodes();
        nextHeatJ = new double[nodes];
        temperatureK = new double[nodes];
        nextTemperatureK = new double[nodes];
        capacityJPerK = new double[nodes];
        spareCapacityJPerK = new double[nodes];
        firstK = new double[nodes];
        secondK = new double[nodes];
        pivot = new double[nodes];
        tallyJ = new double[chain.tallies()];
        firstTallyW = new double[chain.tallies()];
        stepTallyJ = new double[chain.tallies()];
        chain.temperatures(this.heatJ, temperatureK, capacityJPerK);
    }

    /** Heat of a node, J. */
    public double heatJ(int node) {
        return heatJ[node];
    }

    /** Temperature of a node, K. */
    public double temperatureK(int node) {
        return temperatureK[node];
    }

    /** Sum of a tally over all accepted steps, J. */
    public double tallyJ(int tally) {
        return tallyJ[tally];
    }

    /** What the last {@link #attempt} adds to a tally, J. */
    public double stepTallyJ(int tally) {
        return stepTallyJ[tally];
    }

    /** Temperature of a node after the last {@link #attempt}, K. */
    public double attemptedK(int node) {
        return nextTemperatureK[node];
    }

    /**
     * Computes a step without taking it.
     *
     * @param stepS s, above 0
     * @return estimate of the greatest error of a temperature, K: the difference to the method of first order that is
     *     embedded, so much greater than the error itself; NaN when the step failed
     */
    public double attempt(double stepS) {
        double weight = GAMMA * stepS;
        chain.flows(temperatureK, flows, true);
        factor(weight);
        solve(flows.netW, weight, firstK);
        for (int i = 0; i < heatJ.length; i++) {
            nextHeatJ[i] = heatJ[i] + stepS * capacityJPerK[i] * firstK[i];
        }
        for (int j = 0; j < firstTallyW.length; j++) {
            firstTallyW[j] = flows.tallyW[j] + weight * slope(j, firstK);
        }
        chain.temperatures(nextHeatJ, nextTemperatureK, spareCapacityJPerK);
        chain.flows(nextTemperatureK, flows, false);
        for (int i = 0; i < heatJ.length; i++) {
            flows.netW[i] -= 2 * capacityJPerK[i] * firstK[i];
        }
        solve(flows.netW, weight, secondK);
        double errorK = 0;
        for (int i = 0; i < heatJ.length; i++) {
            nextHeatJ[i] = heatJ[i] + stepS * capacityJPerK[i] * (1.5 * firstK[i] + 0.5 * secondK[i]);
            // Math.max keeps a NaN.
            errorK = Math.max(errorK, Math.abs(stepS / 2 * (firstK[i] + secondK[i])));
        }
        for (int j = 0; j < stepTallyJ.length; j++) {
            double secondTallyW = flows.tallyW[j] - 2 * firstTallyW[j] + weight * slope(j, secondK);
            stepTallyJ[j] = stepS * (1.5 * firstTallyW[j] + 0.5 * secondTallyW);
        }
        chain.temperatures(nextHeatJ, nextTemperatureK, spareCapacityJPerK);
        return errorK;
    }

    /** Takes the step of the last {@link #attempt}. */
    public void accept() {
        System.arraycopy(nextHeatJ, 0, heatJ, 0, heatJ.length);
        System.arraycopy(nextTemperatureK, 0, temperatureK, 0, heatJ.length);
        System.arraycopy(spareCapacityJPerK, 0, capacityJPerK, 0, heatJ.length);
        for (int j = 0; j < tallyJ.length; j++) {
            tallyJ[j] += stepTallyJ[j];
        }
    }

    private double slope(int tally, double[] rateK) {
        double sum = 0;
        for (int p = 0; p < ports.length; p++) {
            sum += flows.tallyWPerK[tally][p] * rateK[ports[p]];
        }
        return sum;
    }

    /** Eliminates below the diagonal (Thomas): the slopes are those of a diffusion, so no pivoting is needed. */
    private void factor(double weight) {
        pivot[0] = capacityJPerK[0] - weight * flows.ownWPerK[0];
        for (int i = 1; i < pivot.length; i++) {
            double own = capacityJPerK[i] - weight * flows.ownWPerK[i];
            pivot[i] = own - weight * flows.beforeWPerK[i] * weight * flows.afterWPerK[i - 1] / pivot[i - 1];
        }
    }

    private void solve(double[] right, double weight, double[] into) {
        into[0] = right[0];
        for (int i = 1; i < into.length; i++) {
            into[i] = right[i] + weight * flows.beforeWPerK[i] * into[i - 1] / pivot[i - 1];
        }
        int last = into.length - 1;
        into[last] /= pivot[last];
        for (int i = last - 1; i >= 0; i--) {
            into[i] = (into[i] + weight * flows.afterWPerK[i] * into[i + 1]) / pivot[i];
        }
    }
}
