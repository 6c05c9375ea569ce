package org.bankfire.analysis.trial;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import org.bankfire.analysis.reading.Setting;

/**
 * Settings in force, by name without {@code setting-}: {@code jet}, {@code choke}, {@code plug} … A name that is missing is
 * as the forge was described. Equal settings make one trial.
 */
public record TrialSettings(SortedMap<String, String> values) {
    /** What the daemon keeps for itself or what says something about the user's bounds changes nothing about a forge. */
    private static final Set<String> NOT_A_TRIAL =
            Set.of("wire-hours", "first-fire", "thermocouple", "lowest-stable", "highest-stable");

    /** The bore of the jet. */
    static final String JET = "jet";

    private static final String POSSIBLE = "possible-";
    private static final List<String> NOT_A_TRIAL_STARTS = List.of(POSSIBLE, "zero");
    /** A forge has a dozen things to set; more possible values than this for one are a mistake. */
    private static final int MOST_POSSIBLE = 12;

    private static final String NUMBER = "[-+]?[0-9]*[.,]?[0-9]+";

    /** Nothing set: all is as described. */
    public static final TrialSettings NONE = new TrialSettings(new TreeMap<>());

    public TrialSettings {
        values = Collections.unmodifiableSortedMap(new TreeMap<>(values));
    }

    /** Whether a setting of that record name makes another trial. */
    public static boolean cuts(String recordName) {
        if (recordName.equals(Setting.PLUG)) {
            return true;
        }
        String name = nameOf(recordName);
        return recordName.startsWith(Setting.PREFIX)
                && !NOT_A_TRIAL.contains(name)
                && NOT_A_TRIAL_STARTS.stream().noneMatch(name::startsWith);
    }

    /** The name without its prefix. */
    static String nameOf(String recordName) {
        return recordName.startsWith(Setting.PREFIX) ? recordName.substring(Setting.PREFIX.length()) : recordName;
    }

    /** These with one more in force; one that does not cut changes nothing, and an empty value takes it back. */
    public TrialSettings with(Setting setting) {
        return cuts(setting.name())
                ? with(nameOf(setting.name()), valueOf(setting.value(), unitOf(nameOf(setting.name()), setting.unit())))
                : this;
    }

    /** These with one of them set anew; an empty value takes it back. */
    TrialSettings with(String name, String value) {
        SortedMap<String, String> changed = new TreeMap<>(values);
        if (value.isEmpty()) {
            changed.remove(name);
        } else {
            changed.put(name, value);
        }
        return new TrialSettings(changed);
    }

    /** Of that name; empty when it is as described. */
    public String of(String name) {
        return values.getOrDefault(name, "");
    }

    /** A value so that equal ones are written alike: {@code 0.80} and {@code 0.8} are one jet, {@code Open} is {@code open}. */
    static String valueOf(String text, String unit) {
        String value = text.strip().toLowerCase(Locale.ROOT);
        if (value.matches(NUMBER)) {
            double number = Double.parseDouble(value.replace(',', '.'));
            String bare = BigDecimal.valueOf(number).stripTrailingZeros().toPlainString();
            return unit.isEmpty() ? bare : bare + " " + unit;
        }
        return value;
    }

    /** Names in which two differ, in order. */
    public static List<String> differing(TrialSettings a, TrialSettings b) {
        List<String> names = new ArrayList<>();
        SortedMap<String, String> all = new TreeMap<>(a.values);
        all.putAll(b.values);
        for (String name : all.keySet()) {
            if (!a.of(name).equals(b.of(name))) {
                names.add(name);
            }
        }
        return names;
    }

    /**
     * What the user can set, from settings named {@code setting-possible-NAME}: values with commas between them.
     *
     * @return by name; at most {@value #MOST_POSSIBLE} values each
     */
    public static SortedMap<String, List<String>> possible(Iterable<Setting> inForce) {
        SortedMap<String, List<String>> possible = new TreeMap<>();
        for (Setting setting : inForce) {
            String name = nameOf(setting.name());
            if (setting.name().startsWith(Setting.PREFIX + POSSIBLE) && name.length() > POSSIBLE.length()) {
                String of = name.substring(POSSIBLE.length());
                List<String> values = new ArrayList<>();
                for (String part : setting.value().split(",", -1)) {
                    String value = valueOf(part, unitOf(of, setting.unit()));
                    if (!value.isEmpty() && !values.contains(value) && values.size() < MOST_POSSIBLE) {
                        values.add(value);
                    }
                }
                possible.put(of, values);
            }
        }
        return possible;
    }

    private static String unitOf(String name, String unit) {
        return unit.isEmpty() && isMillimetre(name) ? "mm" : unit;
    }

    /** A jet and its position are in mm unless told otherwise. */
    private static boolean isMillimetre(String name) {
        return name.equals(JET) || name.equals("jet-position");
    }

    /** For the reader, such as {@code choke half, jet 0.8 mm}. */
    public String words() {
        List<String> parts = new ArrayList<>();
        for (Map.Entry<String, String> entry : values.entrySet()) {
            parts.add(entry.getKey() + " " + entry.getValue());
        }
        return parts.isEmpty() ? "as described" : String.join(", ", parts);
    }
}
