package org.bankfire.analysis.alarm;

import java.util.Optional;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Something that a user does about one alarm. It is kept as a note of the forge's record, so that a replay of the record
 * does the same.
 *
 * @param kind what is done
 * @param alarm to which alarm
 * @param shelfS how long it is to stay on the shelf, s; NaN unless it is shelved
 * @param by who does it, in words
 */
public record AlarmAction(Kind kind, AlarmId alarm, double shelfS, String by) {
    private static final String UNNAMED = "the user";

    /** What may be done. */
    public enum Kind {
        ACKNOWLEDGE(Note.ACKNOWLEDGE),
        SHELVE(Note.SHELVE),
        UNSHELVE(Note.UNSHELVE),
        TAKE_OUT_OF_SERVICE(Note.OUT_OF_SERVICE),
        PUT_INTO_SERVICE(Note.IN_SERVICE);

        private final String noteName;

        Kind(String noteName) {
            this.noteName = noteName;
        }

        /** Name of the note that it is kept as. */
        public String noteName() {
            return noteName;
        }
    }

    /** Takes note of it. */
    public static AlarmAction acknowledge(AlarmId alarm, String by) {
        return new AlarmAction(Kind.ACKNOWLEDGE, alarm, Double.NaN, by);
    }

    /**
     * Silences it for a time.
     *
     * @param seconds more than 0, at most {@link Alarm#longestShelfS}
     */
    public static AlarmAction shelve(AlarmId alarm, double seconds, String by) {
        return new AlarmAction(Kind.SHELVE, alarm, seconds, by);
    }

    /** Ends the shelf before its time. */
    public static AlarmAction unshelve(AlarmId alarm, String by) {
        return new AlarmAction(Kind.UNSHELVE, alarm, Double.NaN, by);
    }

    /**
     * Takes it out of service or puts it back.
     *
     * @param out which of the two
     */
    public static AlarmAction outOfService(AlarmId alarm, boolean out, String by) {
        return new AlarmAction(out ? Kind.TAKE_OUT_OF_SERVICE : Kind.PUT_INTO_SERVICE, alarm, Double.NaN, by);
    }

    /** Whether a note of that name keeps an action. */
    public static boolean isKeptAs(String noteName) {
        return kindOf(noteName) != null;
    }

    /** The action that a note keeps; empty when it keeps none, or none that can be read. */
    public static Optional<AlarmAction> of(Note note) {
        Kind kind = kindOf(note.name());
        if (kind == null) {
            return Optional.empty();
        }
        String[] words = note.text().strip().split("\\s+", kind == Kind.SHELVE ? 3 : 2);
        Optional<AlarmId> alarm = AlarmId.ofCode(words[0]);
        int named = kind == Kind.SHELVE ? 2 : 1;
        String by = words.length > named ? words[named] : UNNAMED;
        double seconds = kind == Kind.SHELVE && words.length > 1 ? number(words[1]) : Double.NaN;
        return alarm.map(id -> new AlarmAction(kind, id, seconds, by));
    }

    /**
     * The note to keep of it.
     *
     * @param time event time at which it was done
     */
    public Note note(String forge, WallTime time) {
        String length = kind == Kind.SHELVE ? " " + inDecimals(shelfS) : "";
        return new Note(forge, time, kind.noteName(), alarm.code() + length + " " + by);
    }

    private static @Nullable Kind kindOf(String noteName) {
        for (Kind kind : Kind.values()) {
            if (kind.noteName().equals(noteName)) {
                return kind;
            }
        }
        return null;
    }

    private static String inDecimals(double seconds) {
        return seconds == Math.rint(seconds) ? Long.toString((long) seconds) : Double.toString(seconds);
    }

    private static double number(String text) {
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException notANumber) {
            return Double.NaN;
        }
    }
}
