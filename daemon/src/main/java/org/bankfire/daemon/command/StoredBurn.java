package org.bankfire.daemon.command;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.ForgeDescription;
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
        for (Setting setting : inForce()) {
            intake.take(setting);
        }
        for (Setting setting : store.settings(forge.id(), range)) {
            intake.take(setting);
        }
        TimeRange withBefore = new TimeRange(range.from().plusSeconds(-STOCK_BEFORE_S), range.to());
        for (Note note : store.notes(forge.id(), withBefore)) {
            // Stored times are as the clock had them; nothing is to be shifted again.
            if (note.name().equals(Note.STOCK)) {
                intake.take(note);
            }
        }
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

    /** The latest setting of each name before the burn. */
    private Iterable<Setting> inForce() throws StoreException {
        Map<String, Setting> latest = new HashMap<>();
        for (Setting setting : store.settings(forge.id(), new TimeRange(TimeRange.ALL.from(), burn.start()))) {
            latest.put(setting.name(), setting);
        }
        return latest.values();
    }
}
