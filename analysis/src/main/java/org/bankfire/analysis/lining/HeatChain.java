package org.bankfire.analysis.lining;

/**
 * A row of nodes that store heat and pass it to their neighbours, with heat from outside at some of them, its ports: a
 * lining between chamber and workshop, or a bar and a lining that face each other.
 *
 * <p>Nodes hold heat, J, from which their temperatures follow; so a bar with a transformation keeps its energy as exactly
 * as a lining does. Tallies are heat flows, W, whose sum over time the stepper keeps with the same exactness: what leaves
 * with the flue, for instance.
 */
public interface HeatChain {
    /** Number of nodes, at least 2. */
    int nodes();

    /** Nodes whose temperatures the tallies depend on, in rising order. */
    int[] ports();

    /** Number of tallies. */
    int tallies();

    /**
     * Temperatures from heat.
     *
     * @param heatJ of each node, J
     * @param temperatureK filled, K
     * @param capacityJPerK filled with the derivative of heat by temperature, J/K, above 0
     */
    void temperatures(double[] heatJ, double[] temperatureK, double[] capacityJPerK);

    /**
     * Heat flows at these temperatures.
     *
     * @param temperatureK of each node, K
     * @param flows filled: the net heat and the tallies always, the slopes when {@code withSlopes}
     * @param withSlopes whether the slopes are wanted; those there are must stay as they are when not
     */
    void flows(double[] temperatureK, Flows flows, boolean withSlopes);

    /** Heat flows and how they change with the temperatures. */
    final class Flows {
        /** Net heat into each node, W. */
        public final double[] netW;
        /** Change of a node's net heat with the temperature of the node before it, W/K. */
        public final double[] beforeWPerK;
        /** Change of a node's net heat with its own temperature, W/K. */
        public final double[] ownWPerK;
        /** Change of a node's net heat with the temperature of the node after it, W/K. */
        public final double[] afterWPerK;
        /** Tallies, W. */
        public final double[] tallyW;
        /** Change of each tally with the temperature of each port, W/K. */
        public final double[][] tallyWPerK;

        /** Flows of a chain of this shape, all 0. */
        public Flows(HeatChain chain) {
            int nodes = chain.nodes();
            netW = new double[nodes];
            beforeWPerK = new double[nodes];
            ownWPerK = new double[nodes];
            afterWPerK = new double[nodes];
            tallyW = new double[chain.tallies()];
            tallyWPerK = new double[chain.tallies()][chain.ports().length];
        }
    }
}
