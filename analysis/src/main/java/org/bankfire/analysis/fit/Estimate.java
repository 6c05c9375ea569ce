package org.bankfire.analysis.fit;

/**
 * What a fit says of one parameter.
 *
 * @param name as in the problem
 * @param unit its unit
 * @param value best value, in its unit
 * @param standardError in its unit; NaN at a bound
 * @param low95 lower end of the asymptotic 95 % interval, in its unit: Student's t with effective samples less parameters as
 *     degrees of freedom, taken in the free coordinate, so that it stays within the bounds; NaN at a bound
 * @param high95 upper end
 * @param narrowing standard error over the prior's standard deviation: near 1 the data said nothing, near 0 they said all;
 *     NaN without a prior or at a bound
 * @param atBound whether it is pressed against a bound: the errors of the others then hold for it staying there
 */
public record Estimate(
        String name,
        String unit,
        double value,
        double standardError,
        double low95,
        double high95,
        double narrowing,
        boolean atBound) {}
