package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;

/** Collects what is wrong and what is doubtful while a configuration is read, and the keys that it may have. */
final class Problems {
    /** A key whose value nobody else may see; a key that only names a file may be shown. */
    private static final Pattern SECRET =
            Pattern.compile("(?i)passw|passphrase|secret|token|credential|api-?key|private-?key");

    private static final Pattern USER_IN_ADDRESS = Pattern.compile("//[^/\\s\"]*@");
    private static final Pattern CONTROL = Pattern.compile("\\p{Cntrl}");
    // Six lines of a terminal; the longest list of known keys is shorter.
    private static final int MAX_SHOWN = 480;
    private static final String HIDDEN = "(not shown)";

    private static final Comparator<ConfigProblem> FILE_ORDER =
            Comparator.comparingInt(problem -> problem.line() > 0 ? problem.line() : Integer.MAX_VALUE);

    private final List<ConfigProblem> errors = new ArrayList<>();
    private final List<ConfigProblem> warnings = new ArrayList<>();
    private final Set<String> keysAskedFor = new TreeSet<>();

    /** Something that makes the configuration unusable. */
    void error(Place place, String key, String value, String allowed, String nearest) {
        errors.add(problem(place, key, value, allowed, nearest));
    }

    void error(Place place, String key, String value, String allowed) {
        error(place, key, value, allowed, "");
    }

    /** Something that is probably not meant. */
    void warning(Place place, String key, String value, String allowed, String nearest) {
        warnings.add(problem(place, key, value, allowed, nearest));
    }

    int errorCount() {
        return errors.size();
    }

    List<ConfigProblem> errors() {
        return errors.stream().sorted(FILE_ORDER).toList();
    }

    List<ConfigProblem> warnings() {
        return warnings.stream().sorted(FILE_ORDER).toList();
    }

    /** Remembers that a key may be written, list numbers left out of its path. */
    void askedFor(String key) {
        keysAskedFor.add(key.replaceAll("\\.\\d+(?=\\.)", ""));
    }

    /** Every key that the reader asked for, such as {@code forge.burner.jet}. */
    Set<String> keysAskedFor() {
        return Set.copyOf(keysAskedFor);
    }

    static boolean isSecret(String key) {
        return SECRET.matcher(key).find() && !key.endsWith("-file");
    }

    private static ConfigProblem problem(Place place, String key, String value, String allowed, String nearest) {
        String shown = isSecret(key) && !value.isEmpty()
                ? HIDDEN
                : USER_IN_ADDRESS.matcher(value).replaceAll("//" + HIDDEN + "@");
        return new ConfigProblem(
                place.file(), place.line(), printable(key), printable(shown), printable(allowed), nearest);
    }

    /** Fit for a terminal: no control characters, and no longer than a few lines of it. */
    private static String printable(String text) {
        String plain = CONTROL.matcher(text).replaceAll("?");
        return plain.length() > MAX_SHOWN ? plain.substring(0, MAX_SHOWN) + "…" : plain;
    }
}
