package org.bankfire.daemon.ledger;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.correction.CorrectionChain;
import org.bankfire.analysis.correction.CorrectionSettings;
import org.bankfire.analysis.correction.ZeroCapture;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.RunningLog;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.ForgeConfig;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The path of one forge's readings: corrected, kept, then watched. Used by one thread. */
public final class ForgeLane {
    private static final Logger log = LoggerFactory.getLogger(ForgeLane.class);

    /** Ten seconds at 10 Hz of three raw pressure channels: what a zero is taken from. */
    private static final int RECENT_GAS_READINGS = 300;
    /** An entry that comes with the readings is at most as old as a slow line makes it, s. */
    private static final double LATE_S = 60;

    private final String forge;
    private final CorrectionChain correction;
    private final ForgeMonitor monitor;
    private final PipelineOutput output;
    private final Deque<Reading> recentGas = new ArrayDeque<>(RECENT_GAS_READINGS);

    /** The entry that the monitor was told last under each name; as many names as the log holds. */
    private final Map<String, EntryKey> told = new HashMap<>();

    private final ForgeDescription described;
    private RunningLog entries = new RunningLog();
    private @Nullable WallTime lastReceipt;
    private boolean begun;

    ForgeLane(ForgeConfig config, PipelineOutput output) {
        this.forge = config.id();
        this.output = output;
        this.described = config.description();
        this.correction = new CorrectionChain(
                forge,
                config.channels(),
                CorrectionSettings.forProbe(config.description().probeLagS()));
        this.monitor = new ForgeMonitor(config.description(), config.monitor(), output);
    }

    public ForgeMonitor monitor() {
        return monitor;
    }

    public String forge() {
        return forge;
    }

    /** Readings of one frame, raw. All are kept before the first is watched. */
    void acceptReadings(List<Reading> raw) {
        List<Reading> corrected = corrected(raw);
        for (Reading reading : corrected) {
            output.onReading(reading);
        }
        for (Reading reading : corrected) {
            monitor.accept(reading);
        }
        begun |= !corrected.isEmpty();
        if (!raw.isEmpty()) {
            lastReceipt = raw.get(raw.size() - 1).receiptTime();
        }
        for (Reading reading : raw) {
            if (reading.channel().name().startsWith(ChannelNames.GAS)) {
                if (recentGas.size() == RECENT_GAS_READINGS) {
                    recentGas.removeFirst();
                }
                recentGas.addLast(reading);
            }
        }
    }

    private List<Reading> corrected(List<Reading> raw) {
        try {
            return correction.correct(raw);
        } catch (RuntimeException fault) {
            log.error("readings of {} could not be corrected and are kept as received", forge(), fault);
            return raw;
        }
    }

    void accept(Note note) {
        output.onNote(note);
        if (note.name().equals(Note.CORRECTION)) {
            follow(note);
        } else {
            entries.accept(note);
            monitor.accept(note);
        }
    }

    void accept(Setting setting) {
        output.onSetting(setting);
        String name = setting.name();
        entries.accept(setting);
        EntryKey key = new EntryKey(setting.time(), name);
        Optional<Entry> entry = entries.entry(key);
        if (entry.isEmpty()) {
            if (!isLate(setting.time())) {
                // One name too many for the log: as it came.
                monitor.accept(setting);
            }
        } else if (!isLate(setting.time())
                || entries.latest(name).map(Entry::key).equals(Optional.of(key))) {
            told.put(name, key);
            tellStanding(entry.get());
        }
    }

    /** Written down for a time that is past: that holds now only if nothing came since. */
    private boolean isLate(WallTime time) {
        WallTime latest = lastReceipt;
        return latest == null || time.isBefore(latest.plusSeconds(-LATE_S));
    }

    /** What is corrected has its effect at once where it is in force. */
    private void follow(Note note) {
        Optional<Correction> correction = Correction.of(note);
        if (correction.isEmpty()) {
            log.warn(
                    "the correction of {} at {} cannot be read and has no effect: {}", forge, note.time(), note.text());
            return;
        }
        EntryKey key = correction.get().entry();
        Optional<Entry> before = entries.latest(key.name());
        entries.accept(note);
        if (!Setting.isSetting(key.name()) || !LogResolver.isCorrectable(key.name())) {
            return;
        }
        boolean inForce = before.isPresent() && before.get().key().equals(key);
        Optional<Entry> entry = entries.entry(key);
        if (!inForce && key.equals(told.get(key.name())) && entry.isPresent()) {
            // The clock was set back meanwhile: the last one told counts, not the one of the latest time.
            tellStanding(entry.get());
        } else {
            tellChange(key.name(), before, note.time());
        }
    }

    private void tellStanding(Entry entry) {
        if (!entry.now().withdrawn()) {
            monitor.accept(entry.asSetting());
        }
    }

    /** Tells what is in force now, where that says something else than before; without any, what the forge is described with. */
    private void tellChange(String name, Optional<Entry> before, WallTime at) {
        Optional<Entry> after = entries.latest(name);
        Optional<String> said =
                before.map(entry -> entry.now().value() + ' ' + entry.now().unit());
        if (after.isPresent()) {
            Setting now = after.get().asSetting();
            if (!said.equals(Optional.of(now.value() + ' ' + now.unit()))) {
                // Of two sayings on the lining the later holds, the steps of a first firing that were counted among
                // them.
                boolean saidNow = name.equals(EntryRules.LINING);
                monitor.accept(saidNow ? new Setting(forge, at, name, now.value(), now.unit()) : now);
            }
        } else if (said.isPresent() && name.equals(ForgeMonitor.JET_SETTING)) {
            String millimetres =
                    Double.toString(Unit.MILLIMETRE.fromSi(described.burner().jetDiameterM()));
            monitor.accept(new Setting(forge, at, name, millimetres, Unit.MILLIMETRE.symbol()));
        } else if (said.isPresent() && name.equals(Setting.PLUG)) {
            monitor.accept(new Setting(forge, at, name, "in", ""));
        }
    }

    /**
     * Does what a user asks about an alarm and keeps it as a note, so that a replay of the record does the same.
     *
     * @param now the daemon's time
     * @return false when it does not apply as the alarm stands
     * @throws IllegalArgumentException when the alarm is to be shelved for longer than it may be
     */
    public boolean act(AlarmAction action, WallTime now) {
        Optional<Note> note = monitor.act(action, now);
        note.ifPresent(output::onNote);
        return note.isPresent();
    }

    /**
     * Takes the present output of a pressure channel's transducer as its zero.
     *
     * @return what was taken, or why not, in words
     */
    public String captureZero(String channel, WallTime now) {
        ZeroCapture capture = correction.captureZero(channel, List.copyOf(recentGas));
        if (capture instanceof ZeroCapture.Captured captured) {
            correction.setZero(captured);
            output.onSetting(new Setting(
                    forge(),
                    now,
                    ZeroCapture.settingName(channel),
                    Double.toString(captured.zero()),
                    captured.unit().symbol()));
        }
        return capture.words();
    }

    /** Takes up what was written down before the daemon was started: settings in force, captured zeros among them. */
    void restore(RunningLog before) {
        entries = before;
        before.inForce().forEach(this::restore);
    }

    void restore(Setting setting) {
        String zeros = ZeroCapture.settingName("");
        if (setting.name().startsWith(zeros)) {
            restoreZero(setting, setting.name().substring(zeros.length()));
        } else {
            monitor.accept(setting);
        }
    }

    private void restoreZero(Setting setting, String channel) {
        try {
            correction.setZero(channel, Double.parseDouble(setting.value()), Double.NaN);
        } catch (IllegalArgumentException unfit) {
            log.warn("the zero captured at {} does not fit the configuration: {}", setting.time(), unfit.getMessage());
        }
    }

    /** Whether a reading has come. */
    boolean hasBegun() {
        return begun;
    }
}
