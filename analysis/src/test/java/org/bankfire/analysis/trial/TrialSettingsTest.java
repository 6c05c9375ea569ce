package org.bankfire.analysis.trial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class TrialSettingsTest {
    private static Setting setting(String name, String value, String unit) {
        return new Setting("shed", WallTime.ofEpochSeconds(1), name, value, unit);
    }

    @ParameterizedTest
    @CsvSource({
        "plug, true",
        "setting-jet, true",
        "setting-jet-position, true",
        "setting-choke, true",
        "setting-obstruction, true",
        "setting-lining, true",
        "setting-wire-hours, false",
        "setting-first-fire, false",
        "setting-zero-gas, false",
        "setting-possible-jet, false",
        "setting-lowest-stable, false",
        "setting-highest-stable, false",
        "note, false"
    })
    void onlyWhatAHandChangesOnTheForgeCuts(String name, boolean cuts) {
        assertThat(TrialSettings.cuts(name)).isEqualTo(cuts);
    }

    @Test
    void equalValuesAreEqualHoweverTheyAreWritten() {
        TrialSettings one =
                TrialSettings.NONE.with(setting("setting-jet", "0.80", "")).with(setting("plug", "In", ""));
        TrialSettings other =
                TrialSettings.NONE.with(setting("plug", "in ", "")).with(setting("setting-jet", "0.8", "mm"));
        assertThat(one).isEqualTo(other);
        assertThat(one.words()).isEqualTo("jet 0.8 mm, plug in");
        assertThat(TrialSettings.differing(one, other.with("choke", "half"))).containsExactly("choke");
    }

    @Test
    void whatIsPossibleIsReadFromItsSettings() {
        assertThat(TrialSettings.possible(List.of(
                        setting("setting-possible-jet", "0.7, 0.80,0.9", ""),
                        setting("setting-possible-choke", "open, half", ""),
                        setting("setting-jet", "0.8", "mm"))))
                .containsEntry("jet", List.of("0.7 mm", "0.8 mm", "0.9 mm"))
                .containsEntry("choke", List.of("open", "half"))
                .hasSize(2);
    }
}
