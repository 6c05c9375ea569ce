package org.bankfire.analysis.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AlarmActionTest {
    private static final WallTime TIME = new WallTime(1_772_359_200_000_000L);

    @Test
    void everyActionComesBackFromItsNote() {
        for (AlarmAction action : List.of(
                AlarmAction.acknowledge(AlarmId.FLAME_OUT, "Ada"),
                AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 1_800, "Ada of the quarry forge"),
                AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 0.1 + 0.2, "Ada"),
                AlarmAction.unshelve(AlarmId.CHAMBER_HIGH, "Ada"),
                AlarmAction.outOfService(AlarmId.SHELL_HIGH, true, "Ada"),
                AlarmAction.outOfService(AlarmId.SHELL_HIGH, false, "Ada"))) {
            assertThat(AlarmAction.of(action.note("shed", TIME))).contains(action);
            assertThat(AlarmAction.isKeptAs(action.kind().noteName())).isTrue();
        }
    }

    @Test
    void aShelfIsWrittenInSeconds() {
        assertThat(AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 1_800, "Ada").note("shed", TIME))
                .isEqualTo(new Note("shed", TIME, "shelve", "chamber-high 1800 Ada"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "acknowledge | flame-out | FLAME_OUT | NaN | the user",
                "acknowledge | ' flame-out   Ada ' | FLAME_OUT | NaN | Ada",
                "shelve | shell-high 60 | SHELL_HIGH | 60 | the user",
                "shelve | shell-high | SHELL_HIGH | NaN | the user",
                "shelve | shell-high soon Ada | SHELL_HIGH | NaN | Ada",
            })
    void whatIsMissingIsFilledIn(String name, String text, AlarmId alarm, double seconds, String by) {
        AlarmAction action = AlarmAction.of(new Note("shed", TIME, name, text)).orElseThrow();
        assertThat(action.alarm()).isEqualTo(alarm);
        assertThat(action.shelfS()).isEqualTo(Double.valueOf(seconds));
        assertThat(action.by()).isEqualTo(by);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {"acknowledge | fire Ada", "shelve | ''", "note | flame-out Ada", "stock | in"})
    void whatIsNoActionIsNone(String name, String text) {
        assertThat(AlarmAction.of(new Note("shed", TIME, name, text))).isEmpty();
    }
}
