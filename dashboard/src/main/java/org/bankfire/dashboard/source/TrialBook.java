package org.bankfire.dashboard.source;

import java.util.List;
import org.bankfire.analysis.reading.WallTime;

/**
 * Burns cut into stretches of equal settings, and what the settings changed. Safe for use by many threads; the first answer
 * about burns takes seconds, later ones are at hand. May throw {@link SourceException}.
 */
public interface TrialBook {
    /**
     * Which burns are asked for.
     *
     * @param burns ids; none: every burn that began in the span, the newest first when they are too many
     * @param from first moment of the span, included
     * @param to last moment, excluded
     */
    record Asked(List<String> burns, WallTime from, WallTime to) {
        public Asked {
            burns = List.copyOf(burns);
        }
    }

    /** Most burns that one answer rests on: a year of one or two a week, and a minute of computing. */
    int MOST_BURNS = 50;

    /**
     * Trials, their comparisons and what to try next.
     *
     * @return one JSON object, as the schema {@code Trials} of the API's document describes it
     * @throws IllegalArgumentException naming a burn that the forge does not have
     */
    String trials(String forge, Asked asked);

    /**
     * The same figures, a row each.
     *
     * @return CSV with a header line
     * @throws IllegalArgumentException naming a burn that the forge does not have
     */
    String csv(String forge, Asked asked);
}
