package org.bankfire.analysis.logbook;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Says what an entry of the log should have said. It is kept as a note of the forge's record, so that it survives and
 * travels like any other:
 *
 * <pre>{@code
 * [Ida] 2026-03-01T10:00:12.25Z setting-jet is 0.9 mm
 * 2026-03-01T10:00:12.25Z plug at 2026-03-01T10:05:00Z
 * 2026-03-01T10:00:12.25Z plug at 2026-03-01T10:05:00Z is out
 * 1772359212.25 stock withdrawn
 * }</pre>
 *
 * <p>First who, in brackets, which may be left out; then the entry's time and name as first written down, whatever it has
 * become since; then its time and what it says, one or both, or that it is withdrawn. What follows {@code is} goes on to
 * the end of the text. An entry that was withdrawn and is corrected again stands again.
 *
 * @param forge the forge's id
 * @param at when it was corrected
 * @param entry what is corrected
 * @param movedTo when it applied in truth; null to leave that
 * @param value what it should say, a setting's value with its unit; null to leave that
 * @param withdrawn whether it should not be there at all
 * @param by who, in words; empty when nobody said
 */
public record Correction(
        String forge,
        WallTime at,
        EntryKey entry,
        @Nullable WallTime movedTo,
        @Nullable String value,
        boolean withdrawn,
        String by) {
    /** Longest new text: a note's, less the longest who, entry and time before it. */
    public static final int MAX_VALUE_LENGTH = 3_700;
    /** Longest who. */
    public static final int MAX_BY_LENGTH = 64;

    private static final Pattern TEXT = Pattern.compile(
            // Possessive: blanks are given back to nobody, so that thousands of them take no longer than their number.
            "\\s*+(?:\\[([^\\[\\]]{0,64})]\\s*+)?(\\S{1,40})\\s++(\\S{1,128})\\s++"
                    + "(?:(withdrawn)\\s*+|(?:at\\s++(\\S{1,40}))?(?:\\s*+|(?:(?<=\\s)|\\s++)is (.*)))",
            Pattern.DOTALL);
    /** Years 1970 to 9999, what ISO 8601 text of four-digit years can say, s. */
    private static final double LATEST_S = 253_402_300_799.0;

    public Correction {
        boolean changes = movedTo != null || value != null;
        if (changes == withdrawn) {
            throw new IllegalArgumentException(
                    "a correction of " + entry + ": allowed is a new time or value, or that it is withdrawn");
        }
        if (value != null && value.length() > MAX_VALUE_LENGTH) {
            throw new IllegalArgumentException("a correction of " + entry + " is " + value.length()
                    + " characters long; allowed are " + MAX_VALUE_LENGTH);
        }
        by = by.replace('[', '(').replace(']', ')').strip();
        if (by.length() > MAX_BY_LENGTH) {
            throw new IllegalArgumentException("\"" + by + "\" is longer than " + MAX_BY_LENGTH + " characters");
        }
    }

    /** The entry should not be there. */
    public static Correction withdraw(String forge, WallTime at, EntryKey entry, String by) {
        return new Correction(forge, at, entry, null, null, true, by);
    }

    /** The correction that a note keeps; empty when it keeps none, or none that can be read. */
    public static Optional<Correction> of(Note note) {
        if (!note.name().equals(Note.CORRECTION)) {
            return Optional.empty();
        }
        Matcher matcher = TEXT.matcher(note.text());
        if (!matcher.matches()) {
            return Optional.empty();
        }
        Optional<WallTime> time = time(matcher.group(2));
        String moved = matcher.group(5);
        Optional<WallTime> movedTo = moved == null ? Optional.empty() : time(moved);
        String value = matcher.group(6);
        boolean withdrawn = matcher.group(4) != null;
        boolean unreadable = time.isEmpty() || (moved != null && movedTo.isEmpty());
        boolean saysNothing = !withdrawn && moved == null && value == null;
        if (unreadable || saysNothing || (value != null && value.length() > MAX_VALUE_LENGTH)) {
            return Optional.empty();
        }
        String by = matcher.group(1) == null ? "" : matcher.group(1);
        return Optional.of(new Correction(
                note.forge(),
                note.time(),
                new EntryKey(time.get(), matcher.group(3)),
                movedTo.orElse(null),
                value,
                withdrawn,
                by));
    }

    /** The note to keep of it. */
    public Note note() {
        StringBuilder text = new StringBuilder();
        if (!by.isEmpty()) {
            text.append('[').append(by).append("] ");
        }
        text.append(entry);
        if (withdrawn) {
            text.append(" withdrawn");
        }
        if (movedTo != null) {
            text.append(" at ").append(movedTo);
        }
        if (value != null) {
            text.append(" is ").append(value);
        }
        return new Note(forge, at, Note.CORRECTION, text.toString());
    }

    /** ISO 8601 with its zone, or seconds since 1970. */
    private static Optional<WallTime> time(String text) {
        try {
            double seconds = Double.parseDouble(text);
            return seconds >= 0 && seconds <= LATEST_S
                    ? Optional.of(WallTime.ofEpochSeconds(seconds))
                    : Optional.empty();
        } catch (NumberFormatException notSeconds) {
            try {
                Instant instant = OffsetDateTime.parse(text).toInstant();
                boolean allowed = instant.getEpochSecond() >= 0 && instant.getEpochSecond() <= LATEST_S;
                return allowed ? Optional.of(WallTime.of(instant)) : Optional.empty();
            } catch (DateTimeException notIso) {
                return Optional.empty();
            }
        }
    }
}
