package org.bankfire.daemon.config;

/**
 * One thing that is wrong with the configuration, or doubtful.
 *
 * @param file name of the file as it was given, or {@code --set}
 * @param line from 1; 0 where there are no lines
 * @param key dotted, list items by number from 0, such as {@code forge.0.burner.jet}; empty when it is about the file
 * @param value as written, shortened; empty when it is missing; secrets are not shown
 * @param allowed what is wrong and what is allowed, in words
 * @param nearest the known word that was probably meant; empty for none
 */
public record ConfigProblem(String file, int line, String key, String value, String allowed, String nearest) {
    /** One line for the reader. */
    public String text() {
        StringBuilder text = new StringBuilder(file);
        if (line > 0) {
            text.append(':').append(line);
        }
        text.append(": ");
        if (!key.isEmpty()) {
            text.append(key);
            if (!value.isEmpty()) {
                text.append(" = ").append(value);
            }
            text.append(": ");
        } else if (!value.isEmpty()) {
            text.append(value).append(": ");
        }
        text.append(allowed);
        if (!nearest.isEmpty()) {
            text.append("; did you mean \"").append(nearest).append("\"?");
        }
        return text.toString();
    }
}
