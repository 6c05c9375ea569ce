package org.bankfire.daemon.fitting;

import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Feeds one burn's readings, notes and settings to a {@link BurnRecorder}: good readings only, in the recorder's units and
 * on its time. Not safe for use by several threads.
 */
public final class BurnIntake {
    /** Of one weighing when the scale does not tell: hanging scales of workshops. Common practice, no source. */
    private static final double CYLINDER_UNCERTAINTY_KG = 0.02;
    /** A cylinder that has become heavier by more is another one. Common practice, no source. */
    private static final double OTHER_CYLINDER_KG = 0.3;
    /** No burn takes more between two weighings: a lighter cylinder was put on. Common practice, no source. */
    private static final double MOST_BETWEEN_KG = 5;

    private final WallTime start;
    private @Nullable Reading beforeLighting;
    private final BurnRecorder recorder = new BurnRecorder();
    private double clockSteppedS;
    private double lengthS;
    private boolean hasChamber;
    private double lastCylinderKg = Double.NaN;
    private double cylinderShiftKg;
    private double jetM = Double.NaN;

    /** A burn that begins at {@code start}; it is taken to be lit then. */
    public BurnIntake(WallTime start) {
        this.start = start;
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
                    weighed(reading, timeS);
                }
            }
            default -> {}
        }
    }

    /** A cylinder is weighed before the gas is opened: of those weighings the last counts. */
    private void weighed(Reading reading, double timeS) {
        if (timeS < 0) {
            beforeLighting = reading;
            return;
        }
        Reading before = beforeLighting;
        if (before != null) {
            cylinder(before);
            beforeLighting = null;
        }
        cylinder(reading);
    }

    private void cylinder(Reading reading) {
        double massKg = reading.siValue();
        if (massKg - lastCylinderKg > OTHER_CYLINDER_KG || lastCylinderKg - massKg > MOST_BETWEEN_KG) {
            // Another one goes on where the last one stopped.
            cylinderShiftKg += massKg - lastCylinderKg;
        }
        lastCylinderKg = massKg;
        double uncertaintyKg = reading.standardUncertainty() * reading.unit().factor();
        recorder.cylinder(massKg - cylinderShiftKg, uncertaintyKg > 0 ? uncertaintyKg : CYLINDER_UNCERTAINTY_KG);
    }

    /** Takes a note: stock in or out, or a step of the daemon's clock; others do not concern it. */
    public void take(Note note) {
        if (note.name().equals(Note.STOCK)) {
            String first = firstWord(note.text());
            if (first.equals("in") || first.equals("out")) {
                recorder.stock(seconds(note.time()), first.equals("in"));
            }
        } else if (note.name().equals(Note.CLOCK_STEP) && !note.time().isBefore(start)) {
            try {
                double steppedS = Double.parseDouble(note.text());
                clockSteppedS += Double.isFinite(steppedS) ? steppedS : 0;
            } catch (NumberFormatException none) {
                // A step that nobody can read is none.
                return;
            }
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

    /** Takes a setting: the plug, and the jet when it was put in before the burn; others do not concern it. */
    public void take(Setting setting) {
        if (setting.name().equals(Setting.PLUG)) {
            if (setting.value().equals("in") || setting.value().equals("out")) {
                recorder.plug(seconds(setting.time()), setting.value().equals("in"));
            }
        } else if (setting.name().equals(ForgeMonitor.JET_SETTING)
                && !setting.time().isAfter(start)) {
            Unit unit = setting.unit().isEmpty() ? Unit.MILLIMETRE : Unit.ofSymbol(setting.unit());
            try {
                if (unit.quantity() == Unit.Quantity.LENGTH) {
                    jetM = unit.toSi(Double.parseDouble(setting.value()));
                }
            } catch (NumberFormatException none) {
                // The monitor passes over it too.
                return;
            }
        }
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
        BurnRecord record = recorder.record();
        double endS = Math.min(lengthS, untilS);
        return new GatheredBurn(withJet(forge), burnId, start, start.plusSeconds(endS), stage, upTo(record, untilS));
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

    private ForgeDescription withJet(ForgeDescription forge) {
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
