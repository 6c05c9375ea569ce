package org.bankfire.daemon.ledger;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.correction.CorrectionChain;
import org.bankfire.analysis.correction.CorrectionSettings;
import org.bankfire.analysis.correction.ZeroCapture;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.ForgeConfig;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The path of one forge's readings: corrected, kept, then watched. Used by one thread. */
public final class ForgeLane {
    private static final Logger log = LoggerFactory.getLogger(ForgeLane.class);

    /** Ten seconds at 10 Hz of three raw pressure channels: what a zero is taken from. */
    private static final int RECENT_GAS_READINGS = 300;

    private final String forge;
    private final CorrectionChain correction;
    private final ForgeMonitor monitor;
    private final PipelineOutput output;
    private final Deque<Reading> recentGas = new ArrayDeque<>(RECENT_GAS_READINGS);

    private boolean begun;

    ForgeLane(ForgeConfig config, PipelineOutput output) {
        this.forge = config.id();
        this.output = output;
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
        monitor.accept(note);
    }

    void accept(Setting setting) {
        output.onSetting(setting);
        monitor.accept(setting);
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

    /** Takes up a setting that was in force before the daemon was started, captured zeros among them. */
    public void restore(Setting setting) {
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
