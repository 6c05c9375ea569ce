package org.bankfire.analysis.trial;

/**
 * What a heat-up starts from and is driven by.
 *
 * @param startK temperature of the whole forge at gas on, K
 * @param ambientK of the surroundings, K
 * @param gaugePa gas pressure from gas on, Pa gauge
 */
public record Conditions(double startK, double ambientK, double gaugePa) {}
