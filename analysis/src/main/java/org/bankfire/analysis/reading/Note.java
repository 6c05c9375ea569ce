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
    /** The user acknowledged the alarm whose id begins the text; who did it follows. */
    public static final String ACKNOWLEDGE = "acknowledge";
    /** The user shelved the alarm whose id begins the text; for how many seconds and who did it follow. */
    public static final String SHELVE = "shelve";
    /** The user took the alarm whose id begins the text off the shelf; who did it follows. */
    public static final String UNSHELVE = "unshelve";
    /** The user took the alarm whose id begins the text out of service; who did it follows. */
    public static final String OUT_OF_SERVICE = "out-of-service";
    /** The user put the alarm whose id begins the text back into service; who did it follows. */
    public static final String IN_SERVICE = "in-service";
    /** Says what another entry should have said; {@code org.bankfire.analysis.logbook.Correction} reads and writes it. */
    public static final String CORRECTION = "correction";
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
