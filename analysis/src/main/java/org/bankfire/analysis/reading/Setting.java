package org.bankfire.analysis.reading;

/**
 * A setting that came into force: a jet, a choke, the plug. It holds until the next setting of the same name.
 *
 * @param forge the forge's id
 * @param time from when it holds
 * @param name {@code plug} or {@code setting-…}; with forge and time it is the key
 * @param value as given, such as {@code in} or {@code 0.8}
 * @param unit symbol of the value's unit, empty for text and pure numbers
 */
public record Setting(String forge, WallTime time, String name, String value, String unit) {
    /** Whether the rear opening's plug is {@code in} or {@code out}. */
    public static final String PLUG = "plug";
    /** Prefix of every other setting's record name. */
    public static final String PREFIX = "setting-";

    /** Whether a record of that name is a setting. */
    public static boolean isSetting(String recordName) {
        return recordName.equals(PLUG) || recordName.startsWith(PREFIX);
    }
}
