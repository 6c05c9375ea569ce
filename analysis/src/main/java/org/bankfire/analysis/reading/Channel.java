package org.bankfire.analysis.reading;

import java.util.regex.Pattern;

/**
 * One measured quantity of one forge.
 *
 * @param forge the forge's id: 1 to 64 of {@code A–Z a–z 0–9 - . _}, first a letter or digit
 * @param name the record name on the wire, such as {@code chamber} or {@code gas}: 1 to 128 of the characters that RFC
 *     8428 section 4.5.1 allows, first a letter or digit
 */
public record Channel(String forge, String name) {
    // A colon or slash would make the split of a SenML name into forge and channel ambiguous.
    private static final Pattern FORGE = Pattern.compile("[A-Za-z0-9][A-Za-z0-9._-]{0,63}");
    private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9:./_-]{0,127}");

    public Channel {
        if (!FORGE.matcher(forge).matches()) {
            throw new IllegalArgumentException("forge id \"" + forge
                    + "\": allowed are 1 to 64 letters, digits, '-', '.' and '_', the first a letter or digit");
        }
        if (!NAME.matcher(name).matches()) {
            throw new IllegalArgumentException(
                    "channel \"" + name
                            + "\": allowed are 1 to 128 letters, digits, '-', ':', '.', '/' and '_', the first a letter or digit");
        }
    }

    @Override
    public String toString() {
        return forge + ":" + name;
    }
}
