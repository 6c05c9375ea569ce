package org.bankfire.daemon.report.burn;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Entries;
import org.bankfire.daemon.report.document.ReportContent.Entry;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Section;
import org.bankfire.daemon.report.document.TimeChart.Mark;

/** Settings, notes and alarms of a burn, in order of time; their marks stand on the chart, too. */
final class LogSections {
    /** Settings that the monitor keeps for itself to outlast a restart; they say nothing to a reader. */
    private static final Set<String> KEPT = Set.of("setting-wire-hours", "setting-first-fire");
    /** Names that say more than their records do; as on the dashboard. */
    private static final Map<String, String> NAMES = Map.of(
            "setting-lowest-stable", "burns unsteadily below",
            "setting-highest-stable", "burns unsteadily above");
    /** What was done about alarms is told with the alarms. */
    private static final Set<String> ACTS =
            Set.of(Note.ACKNOWLEDGE, Note.SHELVE, Note.UNSHELVE, Note.OUT_OF_SERVICE, Note.IN_SERVICE);
    /** Entries that are printed: several sheets; a log of more is a source that talks, and the export has all of it. */
    private static final int MOST_ENTRIES = 300;

    private final BurnFile file;
    private final Phrases phrases;
    private final List<Written> written;
    private final List<Mark> marks = new ArrayList<>();

    private record Written(WallTime time, String text) {}

    LogSections(BurnFile file, Phrases phrases) {
        this.file = file;
        this.phrases = phrases;
        this.written = written();
        int number = 1;
        for (Written each : written.subList(0, Math.min(written.size(), MOST_ENTRIES))) {
            marks.add(new Mark(each.time().secondsSince(file.burn().start()), Integer.toString(number)));
            number++;
        }
        int raised = 0;
        for (AlarmTransition step : file.alarms()) {
            if (step.state() == AlarmState.UNACKNOWLEDGED) {
                marks.add(new Mark(step.time().secondsSince(file.burn().start()), letters(raised)));
                raised++;
            }
        }
        marks.sort(Comparator.comparingDouble(Mark::timeS));
    }

    /** Numbers of what was written down, and letters of alarms raised, in order of time. */
    List<Mark> marks() {
        return marks;
    }

    private List<Written> written() {
        List<Written> all = new ArrayList<>();
        for (Setting setting : file.settings()) {
            if (!KEPT.contains(setting.name())) {
                all.add(new Written(setting.time(), words(setting)));
            }
        }
        for (Note note : file.notes()) {
            if (!ACTS.contains(note.name())) {
                all.add(new Written(note.time(), words(note)));
            }
        }
        all.sort(Comparator.comparing(Written::time));
        return all;
    }

    List<Section> sections() {
        return List.of(
                new Section("Settings when it was lit", List.of(inForce())),
                new Section("Written down during the burn", log()),
                new Section("Alarms", alarms()));
    }

    private Block inForce() {
        List<Entry> entries = new ArrayList<>();
        for (Setting setting : file.inForce()) {
            if (!KEPT.contains(setting.name())) {
                entries.add(new Entry("", "since " + phrases.day(setting.time()), words(setting)));
            }
        }
        return entries.isEmpty()
                ? new Paragraph("No setting was written down before this burn; the description below holds.", false)
                : new Entries(entries);
    }

    private List<Block> log() {
        if (written.isEmpty()) {
            return List.of(new Paragraph("Nothing was written down.", false));
        }
        List<Entry> entries = new ArrayList<>();
        for (Written each : written.subList(0, Math.min(written.size(), MOST_ENTRIES))) {
            entries.add(new Entry(Integer.toString(entries.size() + 1), moment(each.time()), each.text()));
        }
        List<Block> blocks = new ArrayList<>(List.of(new Entries(entries)));
        if (written.size() > MOST_ENTRIES) {
            blocks.add(new Paragraph(
                    (written.size() - MOST_ENTRIES) + " more are not printed; the export of the burn has them.",
                    false));
        }
        return blocks;
    }

    private List<Block> alarms() {
        if (file.alarms().isEmpty()) {
            return List.of(new Paragraph("No alarm was raised during this burn.", false));
        }
        List<Entry> entries = new ArrayList<>();
        int raised = 0;
        for (AlarmTransition step : file.alarms()) {
            boolean raises = step.state() == AlarmState.UNACKNOWLEDGED;
            entries.add(new Entry(raises ? letters(raised) : "", moment(step.time()), words(step)));
            raised += raises ? 1 : 0;
        }
        List<Block> blocks = new ArrayList<>(List.of(new Entries(entries)));
        if (file.furtherAlarms() > 0) {
            blocks.add(new Paragraph(file.furtherAlarms() + " further steps of alarms are not printed.", false));
        }
        return blocks;
    }

    private String moment(WallTime time) {
        WallTime start = file.burn().start();
        return phrases.moment(time, start) + ", " + Math.round(time.secondsSince(start) / 60) + "\u00a0min";
    }

    private String words(AlarmTransition step) {
        String what = step.alarm().title() + " " + words(step.state());
        boolean raises = step.state() == AlarmState.UNACKNOWLEDGED;
        String priority = raises ? " (" + step.priority().code() + ")" : "";
        return what + priority + (raises && !step.why().isBlank() ? ": " + phrases.retold(step.why()) : ".");
    }

    private static String words(AlarmState state) {
        return switch (state) {
            case NORMAL -> "over";
            case UNACKNOWLEDGED -> "raised";
            case ACKNOWLEDGED -> "acknowledged";
            case RETURNED_UNACKNOWLEDGED -> "gone again before anybody acknowledged";
            case LATCHED_UNACKNOWLEDGED -> "held until acknowledged, its cause being gone";
            case SHELVED -> "shelved";
            case SUPPRESSED -> "held back, for it follows from another alarm";
            case OUT_OF_SERVICE -> "taken out of service";
        };
    }

    private static String words(Setting setting) {
        String name = NAMES.getOrDefault(
                setting.name(),
                setting.name().startsWith(Setting.PREFIX)
                        ? setting.name().substring(Setting.PREFIX.length()).replace('-', ' ')
                        : setting.name());
        String unit =
                setting.unit().isEmpty() && setting.name().equals(ForgeMonitor.JET_SETTING) ? "mm" : setting.unit();
        return (name + " " + setting.value() + " " + unit).strip();
    }

    private static String words(Note note) {
        return switch (note.name()) {
            case Note.REMARK -> note.text();
            case Note.STOCK -> "stock " + note.text();
            case Note.CLOCK_STEP -> "The daemon’s clock was set by " + note.text() + " s.";
            default -> note.name() + ": " + note.text();
        };
    }

    /** A to Z, then AA and so on. */
    static String letters(int index) {
        String last = Character.toString((char) ('A' + index % 26));
        return index < 26 ? last : letters(index / 26 - 1) + last;
    }
}
