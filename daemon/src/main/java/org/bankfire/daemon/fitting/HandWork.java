package org.bankfire.daemon.fitting;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.logbook.BadEntryException;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/**
 * What hands did during one burn: jet, plug, stock and weighings, as first written down and with what corrects it. It is
 * kept until somebody asks, for a correction may come at any time and change what was told before.
 */
final class HandWork {
    /** Of one weighing when the scale does not tell: hanging scales of workshops. Common practice, no source. */
    private static final double CYLINDER_UNCERTAINTY_KG = 0.02;
    /** A cylinder that has become heavier by more is another one. Common practice, no source. */
    private static final double OTHER_CYLINDER_KG = 0.3;
    /** No burn takes more between two weighings: a lighter cylinder was put on. Common practice, no source. */
    private static final double MOST_BETWEEN_KG = 5;
    /** Hands move a few times an hour; beyond this many entries the earliest stay. */
    private static final int MOST_ENTRIES = 4_000;
    /** A scale weighs by the second. Of a long burn every second, fourth … weighing says the same. */
    private static final int MOST_WEIGHINGS = 1_024;

    private final WallTime start;
    private final List<Note> notes = new ArrayList<>();
    private final List<Setting> settings = new ArrayList<>();
    /** Since the burn's start as the clock ran when it was written down, s. */
    private final Map<EntryKey, Double> timesS = new HashMap<>();

    private List<Weighing> weighings = new ArrayList<>();
    /** Whether anything came since the recorder was told. */
    private boolean changed = true;

    private double jetM = Double.NaN;

    /** One weighing. */
    private record Weighing(WallTime time, double timeS, double massKg, double uncertaintyKg) {
        EntryKey key() {
            return new EntryKey(time, ChannelNames.CYLINDER);
        }
    }

    HandWork(WallTime start) {
        this.start = start;
    }

    /** A good reading of the cylinder's mass. */
    void weighed(Reading reading, double timeS) {
        double uncertaintyKg = reading.standardUncertainty() * reading.unit().factor();
        changed = true;
        weighings.add(new Weighing(
                reading.sourceTime(),
                timeS,
                reading.siValue(),
                uncertaintyKg > 0 ? uncertaintyKg : CYLINDER_UNCERTAINTY_KG));
        if (weighings.size() > MOST_WEIGHINGS) {
            thin();
        }
    }

    /** Only the first, the last and those beside a change of the cylinder matter, and those that may be corrected. */
    private void thin() {
        List<Weighing> kept = new ArrayList<>();
        int last = weighings.size() - 1;
        for (int i = 0; i <= last; i++) {
            boolean everySecond = i % 2 == 0 || i == last;
            boolean matters = isOther(i)
                    || (i < last && isOther(i + 1))
                    || timesS.containsKey(weighings.get(i).key());
            if (everySecond || (matters && kept.size() < MOST_WEIGHINGS / 2)) {
                kept.add(weighings.get(i));
            }
        }
        weighings = kept;
    }

    private boolean isOther(int i) {
        return i > 0 && isOther(weighings.get(i - 1).massKg(), weighings.get(i).massKg());
    }

    /** Whether another cylinder was put on between two weighings; false when nothing was weighed before. */
    private static boolean isOther(double beforeKg, double massKg) {
        return massKg - beforeKg > OTHER_CYLINDER_KG || beforeKg - massKg > MOST_BETWEEN_KG;
    }

    void take(Note note, double timeS) {
        boolean ofUse = note.name().equals(Note.STOCK)
                || note.name().equals(ChannelNames.CYLINDER)
                || note.name().equals(Note.CORRECTION);
        if (ofUse && notes.size() + settings.size() < MOST_ENTRIES) {
            changed = true;
            notes.add(note);
            timesS.putIfAbsent(new EntryKey(note.time(), note.name()), timeS);
        }
    }

    void take(Setting setting, double timeS) {
        boolean ofUse = setting.name().equals(Setting.PLUG) || setting.name().equals(ForgeMonitor.JET_SETTING);
        if (ofUse && notes.size() + settings.size() < MOST_ENTRIES) {
            changed = true;
            settings.add(setting);
            timesS.putIfAbsent(new EntryKey(setting.time(), setting.name()), timeS);
        }
    }

    /**
     * Tells the recorder anew what stands now, if that is not what it was told before; always the same recorder.
     *
     * @return the jet that was in when the burn began, m; NaN when nothing is said of it
     */
    double tell(BurnRecorder recorder) {
        if (changed) {
            changed = false;
            jetM = tellAll(recorder);
        }
        return jetM;
    }

    private double tellAll(BurnRecorder recorder) {
        ResolvedLog log = LogResolver.resolve(withWeighings(), settings);
        recorder.forgetHands();
        double inM = Double.NaN;
        for (Entry entry : log.entries()) {
            if (entry.now().withdrawn()) {
                continue;
            }
            double timeS = timesS.getOrDefault(entry.key(), 0.0)
                    + entry.now().time().secondsSince(entry.key().time());
            String value = entry.now().value();
            switch (entry.key().name()) {
                case Setting.PLUG -> {
                    if (value.equals("in") || value.equals("out")) {
                        recorder.plug(timeS, value.equals("in"));
                    }
                }
                case Note.STOCK -> {
                    String first = firstWord(value);
                    if (first.equals("in") || first.equals("out")) {
                        recorder.stock(timeS, first.equals("in"));
                    }
                }
                case ForgeMonitor.JET_SETTING -> inM = entry.now().time().isAfter(start) ? inM : jet(entry, inM);
                default -> {}
            }
        }
        tellWeighings(log, recorder);
        return inM;
    }

    /** The notes, and one of each corrected weighing that has none of its own: a scale writes no notes. */
    private List<Note> withWeighings() {
        Set<EntryKey> corrected = new HashSet<>();
        String forge = "";
        for (Note note : notes) {
            Optional<Correction> correction = Correction.of(note);
            if (correction.isPresent()) {
                corrected.add(correction.get().entry());
                forge = note.forge();
            }
        }
        if (corrected.isEmpty()) {
            return notes;
        }
        List<Note> all = new ArrayList<>(notes);
        for (Weighing weighing : weighings) {
            if (corrected.contains(weighing.key())) {
                all.add(new Note(
                        forge,
                        weighing.time(),
                        ChannelNames.CYLINDER,
                        Worded.of(weighing.massKg(), "kg").toString()));
            }
        }
        return all;
    }

    private void tellWeighings(ResolvedLog log, BurnRecorder recorder) {
        Map<EntryKey, Entry> corrected = new HashMap<>();
        for (Entry entry : log.entries()) {
            if (entry.key().name().equals(ChannelNames.CYLINDER) && entry.isCorrected()) {
                corrected.put(entry.key(), entry);
            }
        }
        List<Weighing> standing = new ArrayList<>();
        for (Weighing weighing : weighings) {
            Entry entry = corrected.get(weighing.key());
            if (entry == null) {
                standing.add(weighing);
            } else if (!entry.now().withdrawn()) {
                standing.add(asCorrected(weighing, entry.now()));
            }
        }
        standing.sort(Comparator.comparingDouble(Weighing::timeS));
        tell(standing, recorder);
    }

    private static Weighing asCorrected(Weighing weighing, Entry.State now) {
        double massKg;
        try {
            massKg = EntryRules.check(ChannelNames.CYLINDER, now.value(), "").number();
        } catch (BadEntryException unreadable) {
            massKg = weighing.massKg();
        }
        double timeS = weighing.timeS() + now.time().secondsSince(weighing.time());
        return new Weighing(weighing.time(), timeS, massKg, weighing.uncertaintyKg());
    }

    /** A cylinder is weighed before the gas is opened: of those weighings the last counts. */
    private static void tell(List<Weighing> weighings, BurnRecorder recorder) {
        int first = 0;
        while (first + 1 < weighings.size() && weighings.get(first + 1).timeS() < 0) {
            first++;
        }
        boolean onlyBefore = first < weighings.size()
                && first + 1 == weighings.size()
                && weighings.get(first).timeS() < 0;
        if (onlyBefore) {
            return;
        }
        double lastKg = Double.NaN;
        double shiftKg = 0;
        for (Weighing weighing : weighings.subList(Math.min(first, weighings.size()), weighings.size())) {
            double massKg = weighing.massKg();
            if (isOther(lastKg, massKg)) {
                // Another one goes on where the last one stopped.
                shiftKg += massKg - lastKg;
            }
            lastKg = massKg;
            recorder.cylinder(massKg - shiftKg, weighing.uncertaintyKg());
        }
    }

    private static double jet(Entry entry, double before) {
        Unit unit = entry.now().unit().isEmpty()
                ? Unit.MILLIMETRE
                : Unit.ofSymbol(entry.now().unit());
        try {
            return unit.quantity() == Unit.Quantity.LENGTH
                    ? unit.toSi(Double.parseDouble(entry.now().value()))
                    : before;
        } catch (NumberFormatException none) {
            // The monitor passes over it too.
            return before;
        }
    }

    private static String firstWord(String text) {
        String stripped = text.strip().toLowerCase(Locale.ROOT);
        int end = 0;
        while (end < stripped.length() && Character.isLetter(stripped.charAt(end))) {
            end++;
        }
        return stripped.substring(0, end);
    }
}
