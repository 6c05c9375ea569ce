package org.bankfire.analysis.trial;

import java.util.List;
import org.bankfire.analysis.prediction.Band;

/**
 * What to try next.
 *
 * @param proposals the most telling first; none when the user has marked nothing as possible
 * @param why in a sentence
 */
public record NextTrial(List<Proposal> proposals, String why) {
    public NextTrial {
        proposals = List.copyOf(proposals);
    }

    /** Where an expectation comes from. */
    public enum Known {
        /** They are the present settings. */
        PRESENT("present"),
        /** It was burnt before. */
        TRIED("tried"),
        /** The model of the forge knows what it does. */
        MODEL("model"),
        /** From nowhere: some tenth either way is usual. */
        NOTHING("nothing");

        private final String code;

        Known(String code) {
            this.code = code;
        }

        /** As scripts know it. */
        public String code() {
            return code;
        }
    }

    /**
     * One burn that could be made.
     *
     * @param change against the present settings, in words
     * @param settings to burn under
     * @param repeat whether they are the present ones once more
     * @param informationBits expected about which of the possible settings is best
     * @param effectBits expected about the figure under these settings
     * @param chanceBest that they are best, by what is known now
     * @param expected change of the figure against the present settings, with its 95 % interval: %, or K
     * @param known where that comes from
     * @param why in a sentence
     */
    public record Proposal(
            String change,
            TrialSettings settings,
            boolean repeat,
            double informationBits,
            double effectBits,
            double chanceBest,
            Band expected,
            Known known,
            String why) {}
}
