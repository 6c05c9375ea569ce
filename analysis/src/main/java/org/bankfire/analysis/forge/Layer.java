package org.bankfire.analysis.forge;

/**
 * One layer of the lining.
 *
 * @param material of what
 * @param thicknessM m
 */
public record Layer(Material material, double thicknessM) {}
