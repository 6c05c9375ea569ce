package org.bankfire.analysis.reading;

/**
 * Something said about a forge at a time: by the user, by a source as text, or by the daemon of itself.
 *
 * @param forge the forge's id
 * @param time when it applied
 * @param name what kind of note: {@code note}, {@code stock}, {@code acknowledge} …; with forge and time it is the key
 * @param text 0 to 4,000 characters
 */
public record Note(String forge, WallTime time, String name, String text) {
    /** A free remark. */
    public static final String REMARK = "note";
    /** Stock in or out. */
    public static final String STOCK = "stock";
    /** The user acknowledged the alarm whose id is the text. */
    public static final String ACKNOWLEDGE = "acknowledge";
    /** The daemon's clock was set; the text is the step in seconds, later positive. */
    public static final String CLOCK_STEP = "clock-step";

    /** Longest text; a wire line is at most 4,096 bytes. */
    public static final int MAX_TEXT_LENGTH = 4_000;

    public Note {
        if (text.length() > MAX_TEXT_LENGTH) {
            throw new IllegalArgumentException("note \"" + name + "\" of " + forge + " is " + text.length()
                    + " characters long; allowed are " + MAX_TEXT_LENGTH);
        }
    }
}
