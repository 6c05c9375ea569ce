package org.bankfire.daemon.command;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.fitting.BurnIntake;
import org.bankfire.daemon.fitting.GatheredBurn;
import org.bankfire.daemon.fitting.RecordedBurns;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/** A burn of the store with its cool-down: until the next burn begins, but no longer than recorded ones. */
final class StoredBurn {
    /** Burns that are looked through for the next one; more than a year of them. */
    private static final int MOST_BURNS = 1_000;
    /** A stock note of an earlier burn says nothing of this one. */
    private static final double STOCK_BEFORE_S = 3_600;

    private static final List<String> CHANNELS =
            List.of(ChannelNames.CHAMBER, ChannelNames.GAS, ChannelNames.AMBIENT, ChannelNames.CYLINDER);

    private final ReadingStore store;
    private final ForgeDescription forge;
    private final Burn burn;

    StoredBurn(ReadingStore store, ForgeDescription forge, Burn burn) {
        this.store = store;
        this.forge = forge;
        this.burn = burn;
    }

    /** All that the store holds of it; empty without a good chamber reading. */
    Optional<GatheredBurn> gather() throws StoreException {
        TimeRange range = range();
        BurnIntake intake = new BurnIntake(burn.start());
        hands(range, intake);
        Progress progress = new Progress(CHANNELS.size());
        for (int i = 0; i < CHANNELS.size(); i++) {
            progress.show(i);
            store.readings(new Channel(forge.id(), CHANNELS.get(i)), range, intake::take);
        }
        progress.show(CHANNELS.size());
        progress.end();
        WallTime end = burn.end();
        if (end != null) {
            intake.out(end);
        }
        return intake.hasChamber()
                ? Optional.of(intake.gathered(
                        forge, burn.id(), GatheredBurn.Stage.COOLED, range.to().secondsSince(range.from())))
                : Optional.empty();
    }

    private TimeRange range() throws StoreException {
        WallTime last = burn.end();
        WallTime to = last == null
                ? burn.start().plusSeconds(RecordedBurns.LONGEST_S)
                : last.plusSeconds(RecordedBurns.COOL_DOWN_S);
        WallTime next = nextStart();
        return new TimeRange(burn.start(), next != null && next.isBefore(to) ? next : to);
    }

    private @Nullable WallTime nextStart() throws StoreException {
        WallTime next = null;
        for (Burn other : store.burns(forge.id(), MOST_BURNS)) {
            if (other.start().isAfter(burn.start())) {
                next = other.start();
            }
        }
        return next;
    }

    /** What hands did, as it stands after every correction. */
    private void hands(TimeRange range, BurnIntake intake) throws StoreException {
        StoredLog log = new StoredLog(store, forge.id());
        ResolvedLog settings = log.settingsTo(range.to());
        settings.inForce(burn.start()).values().forEach(intake::take);
        for (Setting setting : settings.settings()) {
            if (setting.time().isAfter(burn.start()) && setting.time().isBefore(range.to())) {
                intake.take(setting);
            }
        }
        TimeRange withBefore = new TimeRange(range.from().plusSeconds(-STOCK_BEFORE_S), range.to());
        for (Note note : log.in(withBefore).notes()) {
            // Stored times are as the clock had them; nothing is to be shifted again.
            if (note.name().equals(Note.STOCK)) {
                intake.take(note);
            }
        }
        for (Note note : log.corrections()) {
            boolean ofAWeighing = Correction.of(note)
                    .map(correction -> correction.entry().name().equals(ChannelNames.CYLINDER))
                    .orElse(false);
            if (ofAWeighing) {
                intake.take(note);
            }
        }
    }
}
