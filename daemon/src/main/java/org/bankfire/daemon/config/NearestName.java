package org.bankfire.daemon.config;

import java.util.Collection;
import java.util.Locale;

/** Finds the word that was probably meant. */
final class NearestName {
    // Longer words are cut: the table below grows with the product of both lengths.
    private static final int MAX_LENGTH = 64;

    private NearestName() {}

    /**
     * The known word that takes the fewest insertions, deletions and replacements of letters to reach from
     * {@code word}, upper and lower case alike; empty when more than a third of the longer one would have to change.
     */
    static String among(String word, Collection<String> known) {
        String nearest = "";
        int fewest = Integer.MAX_VALUE;
        String folded = fold(word);
        for (String candidate : known) {
            String other = fold(candidate);
            int changes = distance(folded, other);
            int allowed = Math.max(1, Math.max(folded.length(), other.length()) / 3);
            if (changes <= allowed && changes < fewest) {
                fewest = changes;
                nearest = candidate;
            }
        }
        return nearest;
    }

    /** Levenshtein distance. */
    static int distance(String from, String to) {
        int[] above = new int[to.length() + 1];
        for (int j = 0; j <= to.length(); j++) {
            above[j] = j;
        }
        for (int i = 1; i <= from.length(); i++) {
            int[] row = new int[to.length() + 1];
            row[0] = i;
            for (int j = 1; j <= to.length(); j++) {
                int replace = above[j - 1] + (from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1);
                row[j] = Math.min(replace, 1 + Math.min(above[j], row[j - 1]));
            }
            above = row;
        }
        return above[to.length()];
    }

    private static String fold(String word) {
        String cut = word.length() > MAX_LENGTH ? word.substring(0, MAX_LENGTH) : word;
        return cut.toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
