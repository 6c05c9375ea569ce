package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * A forge with some of its keys changed, as {@code --set} would change them in a configuration that says all that the
 * resolved one does. No file is read or written.
 */
public final class ForgeChanges {
    /** What a prediction rests on; other keys are of alarms and sensors. */
    public static final Set<String> ROOTS =
            Set.copyOf(List.of("target", "ambient", "altitude", "burner", "chamber", "lining", "opening"));

    private final String text;
    private final BankfireConfig config;

    /** Changes of one forge of a configuration. */
    public ForgeChanges(BankfireConfig config, ForgeConfig forge) {
        this.config = new BankfireConfig(
                config.daemon(), config.dashboard(), config.store(), List.of(), List.of(), List.of(forge));
        this.text = ConfigPrinter.print(this.config);
    }

    /**
     * The forge changed, with what is doubtful about it.
     *
     * @param forge as it would be
     * @param doubts one line each
     */
    public record Changed(ForgeConfig forge, List<String> doubts) {}

    /**
     * Changes it.
     *
     * @param changes value by key, dotted, as {@code --set} takes them
     * @throws ConfigException when a key or a value cannot be used
     */
    public Changed with(Map<String, String> changes) throws ConfigException {
        List<ConfigProblem> problems = new ArrayList<>();
        List<String> assignments = new ArrayList<>();
        for (String key : new TreeSet<>(changes.keySet())) {
            String value = String.valueOf(changes.get(key));
            String root = key.split("\\.", 2)[0].strip();
            if (!ROOTS.contains(root) || key.indexOf('=') >= 0) {
                problems.add(new ConfigProblem(
                        "--set",
                        0,
                        key,
                        value,
                        "not a key that a prediction rests on; those begin with "
                                + String.join(", ", new TreeSet<>(ROOTS)),
                        NearestName.among(root, ROOTS)));
            }
            assignments.add(key + "=" + value);
        }
        if (!problems.isEmpty()) {
            throw new ConfigException(problems);
        }
        CheckedConfig checked = ConfigReader.read(
                text, "the configuration", config.store().path().toAbsolutePath(), assignments);
        List<String> doubts = checked.warnings().stream()
                .filter(doubt -> !doubt.key().equals("source"))
                .map(ForgeChanges::words)
                .toList();
        return new Changed(checked.config().forges().get(0), doubts);
    }

    /** Without the place, which is none that the reader knows, and without the number of the only forge. */
    private static String words(ConfigProblem doubt) {
        return doubt.key().replaceFirst("^forge\\.0\\.", "") + ": " + doubt.allowed();
    }
}
