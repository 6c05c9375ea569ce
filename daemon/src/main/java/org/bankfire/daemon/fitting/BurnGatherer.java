package org.bankfire.daemon.fitting;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.RunningLog;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.jspecify.annotations.Nullable;

/**
 * Gathers the burns of one forge, as the monitor tells them apart, from the readings that pass. It holds one burn at a
 * time: a burn's cool-down lasts until the next burn begins, or for the time given. Used by one thread.
 */
public final class BurnGatherer {
    /**
     * A burn is known seconds after it began; until then its readings wait here. Two minutes of three channels at 10 Hz,
     * 135 kB.
     */
    private static final int RECENT_READINGS = 4096;
    /**
     * While a burn goes on the next cannot have begun: gas must go off or the flame out first, which is told at most some
     * readings later. Eight seconds of three channels at 10 Hz.
     */
    private static final int RECENT_WHILE_BURNING = 256;

    private final ForgeDescription forge;
    private final double coolDownS;
    private final List<BurnTaker> takers;
    private final RecentReadings recent = new RecentReadings();
    private final RunningLog log = new RunningLog();
    private @Nullable Going going;

    /** The burn in hand. */
    private static final class Going {
        private final String burnId;
        private final WallTime start;
        private final BurnIntake intake;
        private double endS = Double.NaN;
        private final double[] nextOfferS;

        Going(String burnId, WallTime start, List<BurnTaker> takers) {
            this.burnId = burnId;
            this.start = start;
            intake = new BurnIntake(start);
            nextOfferS = takers.stream().mapToDouble(BurnTaker::everyS).toArray();
        }
    }

    /**
     * Nothing gathered yet.
     *
     * @param coolDownS how much of a cool-down belongs to its burn, s
     */
    public BurnGatherer(ForgeDescription forge, double coolDownS, List<BurnTaker> takers) {
        this.forge = forge;
        this.coolDownS = coolDownS;
        this.takers = List.copyOf(takers);
    }

    /** Takes a corrected reading of the forge. */
    public void accept(Reading reading) {
        if (!isOfUse(reading.channel().name())) {
            return;
        }
        Going now = going;
        boolean burns = now != null && Double.isNaN(now.endS);
        recent.add(reading, burns ? RECENT_WHILE_BURNING : RECENT_READINGS);
        if (now == null) {
            return;
        }
        if (now.intake.seconds(reading) > now.endS + coolDownS) {
            close(Double.POSITIVE_INFINITY);
        } else {
            now.intake.take(reading);
            offer(now);
        }
    }

    private static boolean isOfUse(String channel) {
        return switch (channel) {
            case ChannelNames.CHAMBER, ChannelNames.GAS, ChannelNames.AMBIENT, ChannelNames.CYLINDER -> true;
            default -> false;
        };
    }

    private void offer(Going now) {
        if (!Double.isNaN(now.endS)) {
            return;
        }
        double lengthS = now.intake.lengthS();
        for (int i = 0; i < now.nextOfferS.length; i++) {
            BurnTaker taker = takers.get(i);
            if (lengthS >= now.nextOfferS[i] && taker.wants(forge.id(), now.burnId, Stage.BURNING)) {
                now.nextOfferS[i] = lengthS + taker.everyS();
                taker.take(now.intake.gathered(forge, now.burnId, Stage.BURNING, Double.POSITIVE_INFINITY));
            }
        }
    }

    /** Takes a note. */
    public void accept(Note note) {
        keep(note);
        Optional<Correction> correction = Correction.of(note);
        if (correction.isPresent()) {
            retold(correction.get().entry(), correction.get().movedTo());
        } else {
            retold(new EntryKey(note.time(), note.name()), null);
        }
    }

    /** Takes a setting. */
    public void accept(Setting setting) {
        keep(setting);
        retold(new EntryKey(setting.time(), setting.name()), null);
    }

    /** Takes up what was written down before. */
    void restore(RunningLog before) {
        before.writtenSettings().forEach(this::keep);
        before.writtenNotes().forEach(this::keep);
    }

    private void keep(Note note) {
        log.accept(note);
        if (going != null) {
            going.intake.take(note);
        }
    }

    private void keep(Setting setting) {
        // The plug and the jet, no more: the others say nothing to a fit.
        if (Retold.concernsFits(setting.name())) {
            log.accept(setting);
            if (going != null) {
                going.intake.take(setting);
            }
        }
    }

    private void retold(EntryKey entry, @Nullable WallTime movedTo) {
        Retold what = Retold.justNow(entry, movedTo);
        boolean before = going == null || what.first().isBefore(going.start);
        if (before && Retold.concernsFits(entry.name())) {
            takers.forEach(taker -> taker.retold(forge.id(), what));
        }
    }

    /** Takes the state of a burn as the monitor tells it: a new one, one that goes on, or one that has ended. */
    public void accept(Burn burn) {
        Going now = going;
        if (now == null || !now.burnId.equals(burn.id())) {
            if (burn.end() != null) {
                // The last state of a burn that was taken long ago.
                return;
            }
            if (now != null) {
                close(now.intake.seconds(burn.start()));
            }
            now = begin(burn);
        }
        WallTime end = burn.end();
        if (end != null && Double.isNaN(now.endS)) {
            now.endS = now.intake.seconds(end);
            now.intake.out(end);
            give(now, Stage.ENDED, Double.POSITIVE_INFINITY);
        }
    }

    private Going begin(Burn burn) {
        Going begun = new Going(burn.id(), burn.start(), takers);
        going = begun;
        log.writtenSettings().forEach(begun.intake::take);
        log.writtenNotes().forEach(begun.intake::take);
        recent.forEach(begun.intake::take);
        takers.forEach(taker -> taker.begun(forge.id(), burn.id()));
        return begun;
    }

    /** What was gathered is all there will be. */
    public void finish() {
        if (going != null) {
            close(Double.POSITIVE_INFINITY);
        }
    }

    private void close(double untilS) {
        Going last = going;
        going = null;
        if (last != null) {
            give(last, Stage.COOLED, untilS);
        }
    }

    private void give(Going burn, Stage stage, double untilS) {
        for (BurnTaker taker : takers) {
            if (taker.wants(forge.id(), burn.burnId, stage)) {
                taker.take(burn.intake.gathered(forge, burn.burnId, stage, untilS));
            }
        }
    }
}
