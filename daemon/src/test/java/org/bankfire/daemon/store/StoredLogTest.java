package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.groups.Tuple.tuple;

import java.nio.file.Path;
import java.util.List;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class StoredLogTest {
    private static final WallTime T0 = WallTime.ofEpochSeconds(1_772_359_200);
    private static final TimeRange HOUR = new TimeRange(T0, T0.plusSeconds(3_600));

    @TempDir
    Path folder;

    private ReadingStore store;

    @BeforeEach
    void open() throws Exception {
        store = SqliteStore.open(folder.resolve("shed.db"));
    }

    @AfterEach
    void close() throws Exception {
        store.close();
    }

    private void keep(Setting... settings) throws Exception {
        store.append(new StoreBatch(List.of(), List.of(), List.of(settings), List.of(), List.of()));
    }

    private void correct(double atS, String what) throws Exception {
        Note note = new Note("shed", T0.plusSeconds(atS), Note.CORRECTION, what);
        store.append(new StoreBatch(List.of(), List.of(note), List.of(), List.of(), List.of()));
    }

    private ResolvedLog hour() throws Exception {
        return new StoredLog(store, "shed").in(HOUR);
    }

    @Test
    void aCorrectionCountsHoweverMuchLaterItCame() throws Exception {
        keep(new Setting("shed", T0.plusSeconds(60), "setting-jet", "0.8", "mm"));
        correct(400 * 86_400.0, T0.plusSeconds(60) + " setting-jet is 0.9 mm");
        assertThat(hour().settings()).extracting(Setting::value).containsExactly("0.9");
        assertThat(hour().notes()).isEmpty();
    }

    @Test
    void whatWasMovedIsFoundWhereItIsAndWhereItWas() throws Exception {
        Setting outside = new Setting("shed", T0.plusSeconds(7_200), Setting.PLUG, "out", "");
        Setting inside = new Setting("shed", T0.plusSeconds(60), "setting-jet", "0.8", "mm");
        keep(outside, inside);
        correct(8_000, outside.time() + " plug at " + T0.plusSeconds(120));
        correct(8_001, inside.time() + " setting-jet at " + T0.plusSeconds(-600));
        assertThat(hour().entries())
                .extracting(Entry::key, entry -> entry.now().time())
                .containsExactly(
                        tuple(new EntryKey(inside.time(), "setting-jet"), T0.plusSeconds(-600)),
                        tuple(new EntryKey(outside.time(), Setting.PLUG), T0.plusSeconds(120)));
        StoredLog log = new StoredLog(store, "shed");
        assertThat(log.settingsTo(T0).inForce(T0).get("setting-jet")).returns("0.8", Setting::value);
        assertThat(log.settingsTo(T0.plusSeconds(300)).inForce(T0.plusSeconds(300)))
                .containsKeys("setting-jet", Setting.PLUG);
    }

    @Test
    void aCorrectionOfWhatIsNotThereIsTold() throws Exception {
        correct(100, T0.plusSeconds(60) + " setting-jet is 0.9 mm");
        correct(101, T0.plusSeconds(-60) + " setting-jet is 0.9 mm");
        assertThat(hour().entries()).isEmpty();
        assertThat(hour().unmatched()).hasSize(1);
    }

    @Test
    void aWeighingOfAScaleCanBeCorrectedWithoutANote() throws Exception {
        WallTime time = T0.plusSeconds(60);
        store.append(StoreBatch.ofReadings(
                List.of(Reading.good(new Channel("shed", "cylinder"), 112, Unit.KILOGRAM, time, time))));
        assertThat(hour().entries()).isEmpty();
        correct(100, time + " cylinder is 11.2 kg");
        Entry entry = hour().entries().get(0);
        assertThat(entry.first().value()).isEqualTo("112.0 kg");
        assertThat(entry.now().value()).isEqualTo("11.2 kg");
    }
}
