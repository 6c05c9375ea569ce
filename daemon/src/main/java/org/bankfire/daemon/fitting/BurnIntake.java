package org.bankfire.daemon.fitting;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/**
 * Feeds one burn's readings, notes and settings to a {@link BurnRecorder}: good readings only, in the recorder's units and
 * on its time. Not safe for use by several threads.
 */
public final class BurnIntake {
    private final WallTime start;
    private final BurnRecorder recorder = new BurnRecorder();
    private double clockSteppedS;
    private double lengthS;
    private boolean hasChamber;
    private final HandWork hands;

    /** A burn that begins at {@code start}; it is taken to be lit then. */
    public BurnIntake(WallTime start) {
        this.start = start;
        this.hands = new HandWork(start);
    }

    /** Takes a reading of the burn's forge; those that the fit has no use for are passed over. */
    public void take(Reading reading) {
        if (reading.quality() != Quality.GOOD) {
            return;
        }
        double timeS = seconds(reading);
        switch (reading.channel().name()) {
            case ChannelNames.CHAMBER -> {
                if (isOf(reading, Unit.Quantity.TEMPERATURE)) {
                    recorder.chamber(timeS, reading.siValue());
                    hasChamber |= timeS >= 0;
                    lengthS = Math.max(lengthS, timeS);
                }
            }
            case ChannelNames.GAS -> {
                if (isOf(reading, Unit.Quantity.PRESSURE)) {
                    recorder.gas(timeS, reading.siValue());
                    lengthS = Math.max(lengthS, timeS);
                }
            }
            case ChannelNames.AMBIENT -> {
                if (isOf(reading, Unit.Quantity.TEMPERATURE)) {
                    recorder.ambient(timeS, reading.siValue());
                }
            }
            case ChannelNames.CYLINDER -> {
                if (isOf(reading, Unit.Quantity.MASS)) {
                    hands.weighed(reading, timeS);
                }
            }
            default -> {}
        }
    }

    /** Takes a note: stock, a weighing, a correction, or a step of the daemon's clock; others do not concern it. */
    public void take(Note note) {
        if (!note.name().equals(Note.CLOCK_STEP)) {
            hands.take(note, seconds(note.time()));
        } else if (!note.time().isBefore(start)) {
            try {
                double steppedS = Double.parseDouble(note.text());
                clockSteppedS += Double.isFinite(steppedS) ? steppedS : 0;
            } catch (NumberFormatException none) {
                // A step that nobody can read is none.
                return;
            }
        }
    }

    /** Takes a setting: the plug, and the jet when it was put in before the burn; others do not concern it. */
    public void take(Setting setting) {
        hands.take(setting, seconds(setting.time()));
    }

    /** The flame is out or the gas off from then on. */
    public void out(WallTime time) {
        recorder.lit(seconds(time), false);
    }

    /** Whether there is anything to fit. */
    public boolean hasChamber() {
        return hasChamber;
    }

    /** From the burn's start to the latest reading, s. */
    public double lengthS() {
        return lengthS;
    }

    /** A time of the daemon's clock as it runs now, in seconds since the burn's start. */
    double seconds(WallTime time) {
        return time.secondsSince(start) - clockSteppedS;
    }

    /** Times that the daemon gave follow its clock when that is set; a source's own times do not. */
    double seconds(Reading reading) {
        return reading.sourceTime().equals(reading.receiptTime())
                ? seconds(reading.sourceTime())
                : reading.sourceTime().secondsSince(start);
    }

    /** What was gathered so far. */
    public GatheredBurn gathered(ForgeDescription forge, String burnId, GatheredBurn.Stage stage, double untilS) {
        double jetM = hands.tell(recorder);
        BurnRecord record = recorder.record();
        double endS = Math.min(lengthS, untilS);
        return new GatheredBurn(
                withJet(forge, jetM), burnId, start, start.plusSeconds(endS), stage, upTo(record, untilS));
    }

    private static BurnRecord upTo(BurnRecord record, double untilS) {
        if (record.endS() <= untilS) {
            return record;
        }
        List<BurnRecord.Stretch> kept = record.stretches().stream()
                .filter(stretch -> stretch.endS() <= untilS)
                .toList();
        long samples = kept.stream().mapToLong(BurnRecord.Stretch::samples).sum();
        return new BurnRecord(kept, samples, record.weighedGasKg(), record.weighedUncertaintyKg());
    }

    private static ForgeDescription withJet(ForgeDescription forge, double jetM) {
        Burner burner = forge.burner();
        if (!Burner.JET_M.contains(jetM) || jetM >= burner.throatDiameterM()) {
            return forge;
        }
        return forge.withJet(jetM);
    }

    private static boolean isOf(Reading reading, Unit.Quantity quantity) {
        return reading.unit().quantity() == quantity;
    }
}
