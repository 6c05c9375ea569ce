package org.bankfire.analysis.logbook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Random;
import java.util.stream.LongStream;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class CorrectionTest {
    private static final WallTime AT = WallTime.ofEpochSeconds(1_772_360_000);
    private static final EntryKey JET = new EntryKey(WallTime.ofEpochSeconds(1_772_359_212.25), "setting-jet");

    private static Correction read(String text) {
        return Correction.of(new Note("shed", AT, Note.CORRECTION, text)).orElseThrow();
    }

    @Test
    void itIsWrittenAsPeopleCanReadIt() {
        Correction value = new Correction("shed", AT, JET, null, "0.9 mm", false, "Ida");
        assertThat(value.note().text()).isEqualTo("[Ida] 2026-03-01T10:00:12.250Z setting-jet is 0.9 mm");
        WallTime moved = WallTime.ofEpochSeconds(1_772_359_500);
        assertThat(new Correction("shed", AT, JET, moved, "0.9 mm", false, "")
                        .note()
                        .text())
                .isEqualTo("2026-03-01T10:00:12.250Z setting-jet at 2026-03-01T10:05:00Z is 0.9 mm");
        assertThat(Correction.withdraw("shed", AT, JET, "Ida").note().text())
                .isEqualTo("[Ida] 2026-03-01T10:00:12.250Z setting-jet withdrawn");
    }

    @Test
    void firmwareMayWriteItInItsOwnWay() {
        assertThat(read("1772359212.25 setting-jet is 0.9 mm"))
                .isEqualTo(new Correction("shed", AT, JET, null, "0.9 mm", false, ""));
        assertThat(read("  [Otto B.]2026-03-01T11:00:12.25+01:00  setting-jet   withdrawn "))
                .isEqualTo(Correction.withdraw("shed", AT, JET, "Otto B."));
        assertThat(read("1772359212.25 setting-jet at 1772359500"))
                .isEqualTo(new Correction("shed", AT, JET, WallTime.ofEpochSeconds(1_772_359_500), null, false, ""));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "setting-jet is 0.9",
                "1772359212.25 setting-jet",
                "1772359212.25 setting-jet 0.9",
                "1772359212.25 setting-jet at noon",
                "yesterday setting-jet withdrawn",
                "1772359212.25 setting-jet withdrawn is 0.9",
                "-5 setting-jet withdrawn",
                "[Ida 1772359212.25 setting-jet withdrawn"
            })
    void whatSaysNothingIsNone(String text) {
        assertThat(Correction.of(new Note("shed", AT, Note.CORRECTION, text))).isEmpty();
    }

    @Test
    void itMustSayOneThing() {
        assertThatThrownBy(() -> new Correction("shed", AT, JET, null, null, false, "Ida"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("setting-jet");
        assertThatThrownBy(() -> new Correction("shed", AT, JET, null, "0.9", true, "Ida"))
                .isInstanceOf(IllegalArgumentException.class);
    }

    static LongStream seeds() {
        return LongStream.range(0, 300);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void whatIsWrittenIsReadAgain(long seed) {
        Random random = new Random(seed);
        EntryKey entry = new EntryKey(
                new WallTime(1_600_000_000_000_000L + (random.nextLong() & 0xffff_ffff_ffffL)),
                random.nextBoolean() ? "note" : "setting-a.b_" + random.nextInt(9));
        boolean withdrawn = random.nextInt(4) == 0;
        WallTime moved = withdrawn || random.nextBoolean() ? null : entry.time().plusMicros(random.nextInt());
        String value = withdrawn || (moved != null && random.nextBoolean()) ? null : words(random);
        Correction correction = new Correction(
                "shed", AT, entry, moved, value, withdrawn, words(random).strip());
        assertThat(Correction.of(correction.note())).contains(correction);
    }

    /** With everything in it that could be taken for something else. */
    private static String words(Random random) {
        String[] words = {"is", " is ", "at", " withdrawn", "[x]", "\n", " ", "0.9", "mm", "ä", "]", "\"", "2026-03-01"
        };
        StringBuilder text = new StringBuilder();
        int count = random.nextInt(6);
        for (int i = 0; i < count; i++) {
            text.append(words[random.nextInt(words.length)]);
        }
        return text.toString();
    }

    @Test
    void theLongestFitsIntoANote() {
        WallTime late = new WallTime(253_402_300_799_999_999L);
        Correction longest = new Correction(
                "shed",
                AT,
                new EntryKey(late, "n".repeat(128)),
                late,
                "x".repeat(Correction.MAX_VALUE_LENGTH),
                false,
                "y".repeat(Correction.MAX_BY_LENGTH));
        assertThat(Correction.of(longest.note())).contains(longest);
    }
}
