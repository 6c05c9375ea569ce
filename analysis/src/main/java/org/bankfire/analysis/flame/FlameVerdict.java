package org.bankfire.analysis.flame;

/** What {@link FlameTest} can say. */
public enum FlameVerdict {
    /** No gas flows. */
    NO_GAS,
    /** Gas flows and nothing shows yet that it burns. */
    LIGHTING,
    BURNING,
    /** Gas flows, it has burned, and it burns no more. */
    OUT
}
