package org.bankfire.analysis.logbook;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import org.bankfire.analysis.logbook.Entry.State;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class LogResolverTest {
    private static final String FORGE = "shed";
    private static final WallTime T0 = WallTime.ofEpochSeconds(1_772_359_200);
    private static final EntryKey JET = new EntryKey(at(12.25), "setting-jet");

    private static WallTime at(double seconds) {
        return T0.plusSeconds(seconds);
    }

    private static Setting setting(double seconds, String name, String value, String unit) {
        return new Setting(FORGE, at(seconds), name, value, unit);
    }

    private static Note is(double seconds, EntryKey entry, String value) {
        return new Correction(FORGE, at(seconds), entry, null, value, false, "Ida").note();
    }

    private static Note moved(double seconds, EntryKey entry, WallTime to) {
        return new Correction(FORGE, at(seconds), entry, to, null, false, "Ida").note();
    }

    private static Note withdrawn(double seconds, EntryKey entry) {
        return Correction.withdraw(FORGE, at(seconds), entry, "Otto").note();
    }

    private static ResolvedLog resolve(List<Note> notes, Setting... settings) {
        return LogResolver.resolve(notes, List.of(settings));
    }

    @Test
    void aCorrectedValueStandsAndTheFirstIsKept() {
        ResolvedLog log = resolve(List.of(is(100, JET, "0.9 mm")), setting(12.25, "setting-jet", "0.8", "mm"));
        Entry entry = log.entry(JET).orElseThrow();
        State first = new State(JET.time(), "0.8", "mm", false);
        State now = new State(JET.time(), "0.9", "mm", false);
        assertThat(entry.first()).isEqualTo(first);
        assertThat(entry.now()).isEqualTo(now);
        assertThat(entry.history()).containsExactly(new Entry.Revision(at(100), "Ida", first, now));
        assertThat(log.settings()).containsExactly(setting(12.25, "setting-jet", "0.9", "mm"));
        assertThat(log.notes()).isEmpty();
    }

    @Test
    void whatIsCorrectedAgainIsWhatTheLastSays() {
        ResolvedLog log = resolve(
                List.of(is(300, JET, "1.1 mm"), is(100, JET, "0.9 mm"), moved(200, JET, at(-60))),
                setting(12.25, "setting-jet", "0.8", "mm"));
        Entry entry = log.entry(JET).orElseThrow();
        assertThat(entry.now()).isEqualTo(new State(at(-60), "1.1", "mm", false));
        assertThat(entry.history()).extracting(step -> step.after().value()).containsExactly("0.9", "0.9", "1.1");
    }

    @Test
    void whatIsWithdrawnDoesNotHoldUntilItIsCorrectedAgain() {
        Setting before = setting(0, "setting-jet", "0.7", "mm");
        Setting later = setting(12.25, "setting-jet", "0.8", "mm");
        assertThat(resolve(List.of(), before, later).inForce(at(60))).containsEntry("setting-jet", later);
        ResolvedLog without = resolve(List.of(withdrawn(100, JET)), before, later);
        assertThat(without.inForce(at(60))).containsEntry("setting-jet", before);
        assertThat(without.entries()).hasSize(2);
        ResolvedLog again = resolve(List.of(withdrawn(100, JET), is(110, JET, "0.85 mm")), before, later);
        assertThat(again.inForce(at(60))).containsEntry("setting-jet", setting(12.25, "setting-jet", "0.85", "mm"));
        assertThat(again.entry(JET).orElseThrow().history()).hasSize(2);
    }

    @Test
    void aTimeThatIsCorrectedMovesFromWhenItHolds() {
        EntryKey plug = new EntryKey(at(600), Setting.PLUG);
        ResolvedLog log = resolve(
                List.of(moved(700, plug, at(300))),
                setting(600, Setting.PLUG, "out", ""),
                setting(0, Setting.PLUG, "in", ""));
        assertThat(log.inForce(at(299)).get(Setting.PLUG)).returns("in", Setting::value);
        assertThat(log.inForce(at(300)).get(Setting.PLUG)).returns("out", Setting::value);
    }

    @Test
    void aCorrectionOfNothingKnownIsKeptAndTold() {
        Note early = is(100, JET, "0.9 mm");
        ResolvedLog alone = resolve(List.of(early));
        assertThat(alone.entries()).isEmpty();
        assertThat(alone.unmatched()).containsExactly(Correction.of(early).orElseThrow());
        ResolvedLog together = resolve(List.of(early), setting(12.25, "setting-jet", "0.8", "mm"));
        assertThat(together.unmatched()).isEmpty();
        assertThat(together.settings()).extracting(Setting::value).containsExactly("0.9");
    }

    @ParameterizedTest
    @ValueSource(strings = {"acknowledge", "shelve", "clock-step", "correction"})
    void whatHadItsEffectIsNotCorrected(String name) {
        EntryKey key = new EntryKey(at(5), name);
        Note done = new Note(FORGE, at(5), name, "gas-falling Ida");
        ResolvedLog log = resolve(List.of(done, withdrawn(100, key)));
        assertThat(log.unmatched()).hasSize(1);
        assertThat(log.entries()).noneMatch(entry -> entry.now().withdrawn());
    }

    @ParameterizedTest
    @ValueSource(strings = {"setting-wire-hours", "setting-first-fire", "setting-zero-gas"})
    void whatTheDaemonCountsForItselfIsNotCorrected(String name) {
        assertThat(LogResolver.isCorrectable(name)).isFalse();
        assertThat(LogResolver.isCorrectable("setting-choke")).isTrue();
    }

    static LongStream seeds() {
        return LongStream.range(0, 200);
    }

    /** Entries and corrections at random: values, times, withdrawals, entries that do not exist. */
    private static final class Scribble {
        final List<Note> notes = new ArrayList<>();
        final List<Setting> settings = new ArrayList<>();

        Scribble(long seed) {
            Random random = new Random(seed);
            String[] names = {"setting-jet", "setting-choke", Setting.PLUG, Note.STOCK, Note.REMARK};
            List<EntryKey> keys = new ArrayList<>();
            for (int i = 0; i < 12; i++) {
                String name = names[random.nextInt(names.length)];
                WallTime time = at(random.nextInt(40));
                keys.add(new EntryKey(time, name));
                String value = "v" + random.nextInt(4);
                // Not always: some corrections find nothing.
                if (random.nextInt(5) == 0) {
                    continue;
                }
                if (Setting.isSetting(name)) {
                    settings.add(new Setting(FORGE, time, name, value, ""));
                } else {
                    notes.add(new Note(FORGE, time, name, value));
                }
            }
            for (int i = 0; i < 15; i++) {
                EntryKey key = keys.get(random.nextInt(keys.size()));
                double when = 100 + i;
                switch (random.nextInt(3)) {
                    case 0 -> notes.add(is(when, key, "w" + random.nextInt(6)));
                    case 1 -> notes.add(moved(when, key, at(random.nextInt(80))));
                    default -> notes.add(withdrawn(when, key));
                }
            }
            distinctKeys();
        }

        /** The first of a key stays, as in the store. */
        private void distinctKeys() {
            List<EntryKey> seen = new ArrayList<>();
            settings.removeIf(each -> !firstOf(seen, new EntryKey(each.time(), each.name())));
            notes.removeIf(each -> !firstOf(seen, new EntryKey(each.time(), each.name())));
        }

        private static boolean firstOf(List<EntryKey> seen, EntryKey key) {
            return !seen.contains(key) && seen.add(key);
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void anyOrderOfArrivalGivesTheSame(long seed) {
        Scribble scribble = new Scribble(seed);
        ResolvedLog inOrder = LogResolver.resolve(scribble.notes, scribble.settings);
        Random random = new Random(~seed);
        for (int i = 0; i < 5; i++) {
            Collections.shuffle(scribble.notes, random);
            Collections.shuffle(scribble.settings, random);
            assertThat(LogResolver.resolve(scribble.notes, scribble.settings)).isEqualTo(inOrder);
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void historiesBeginAtTheFirstAndEndAtWhatStands(long seed) {
        Scribble scribble = new Scribble(seed);
        ResolvedLog log = LogResolver.resolve(scribble.notes, scribble.settings);
        long corrections = scribble.notes.stream()
                .filter(note -> note.name().equals(Note.CORRECTION))
                .count();
        assertThat(log.entries()).hasSize(scribble.settings.size() + scribble.notes.size() - (int) corrections);
        for (Entry entry : log.entries()) {
            State state = entry.first();
            assertThat(state).isEqualTo(new State(entry.key().time(), state.value(), state.unit(), false));
            for (Entry.Revision step : entry.history()) {
                assertThat(step.before()).isEqualTo(state).isNotEqualTo(step.after());
                state = step.after();
            }
            assertThat(entry.now()).isEqualTo(state);
        }
        assertThat(log.entries())
                .isSortedAccordingTo((a, b) -> a.now().time().compareTo(b.now().time()));
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void aLogThatRunsAlongHasInForceWhatTheWholeHas(long seed) {
        Scribble scribble = new Scribble(seed);
        RunningLog running = new RunningLog();
        List<Object> all = new ArrayList<>(scribble.notes);
        all.addAll(scribble.settings);
        Collections.shuffle(all, new Random(seed));
        for (Object each : all) {
            if (each instanceof Note note) {
                running.accept(note);
            } else if (each instanceof Setting setting) {
                running.accept(setting);
            }
        }
        ResolvedLog whole = LogResolver.resolve(scribble.notes, scribble.settings);
        assertThat(running.inForce())
                .containsExactlyInAnyOrderElementsOf(whole.inForce(at(1e6)).values());
        assertThat(running.copy().inForce()).containsExactlyInAnyOrderElementsOf(running.inForce());
        for (Setting inForce : running.inForce()) {
            assertThat(running.inForce(inForce.name())).contains(inForce);
        }
    }

    @Test
    void aLogThatRunsAlongIsBounded() {
        RunningLog running = new RunningLog();
        for (int i = 0; i < 5_000; i++) {
            running.accept(setting(i, "setting-jet", "0." + i, "mm"));
            running.accept(setting(i, "setting-" + i, "1", ""));
            running.accept(is(i, new EntryKey(at(i), "setting-choke"), "half"));
            running.accept(new Note(FORGE, at(i), Note.STOCK, "in"));
            running.accept(new Note(FORGE, at(i), Note.REMARK, "hot"));
        }
        assertThat(running.writtenSettings()).hasSize(RunningLog.MOST_OF_A_NAME + RunningLog.MOST_NAMES - 1);
        assertThat(running.writtenNotes()).hasSize(RunningLog.MOST_OF_A_NAME + RunningLog.MOST_CORRECTIONS);
        assertThat(running.inForce("setting-jet")).map(Setting::value).contains("0.4999");
    }
}
