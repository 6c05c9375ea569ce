package org.bankfire.analysis.fit;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/**
 * A direction in which parameters can change together while the residuals stay as they are.
 *
 * @param terms the greatest first
 */
public record Combination(List<Term> terms) {
    public Combination {
        terms = List.copyOf(terms);
    }

    /**
     * A parameter's part.
     *
     * @param name the parameter
     * @param share its change in multiples of its scale, over the greatest of all, −1 to 1
     */
    public record Term(String name, double share) {}

    @Override
    public String toString() {
        return terms.stream()
                .map(term -> String.format(Locale.ROOT, "%+.2f %s", term.share(), term.name()))
                .collect(Collectors.joining(" "));
    }
}
