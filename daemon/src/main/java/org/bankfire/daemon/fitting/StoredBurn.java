package org.bankfire.daemon.fitting;

import java.util.List;
import java.util.Optional;
import java.util.function.IntConsumer;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/** A burn of the store with its cool-down: until the next burn begins, but no longer than recorded ones. */
public final class StoredBurn {
    /** Burns that are looked through for the next one; more than a year of them. */
    private static final int MOST_BURNS = 1_000;
    /** A stock note of an earlier burn says nothing of this one. */
    static final double STOCK_BEFORE_S = 3_600;

    private static final List<String> CHANNELS =
            List.of(ChannelNames.CHAMBER, ChannelNames.GAS, ChannelNames.AMBIENT, ChannelNames.CYLINDER);

    /** Channels that are read one after the other. */
    public static final int STEPS = CHANNELS.size();

    private final ReadingStore store;
    private final ForgeDescription forge;
    private final Burn burn;

    /** What else takes a burn's settings and readings; times are s since the burn's start. */
    public interface Tap {
        /** Takes nothing. */
        Tap NONE = new Tap() {
            @Override
            public void setting(double timeS, Setting setting) {}

            @Override
            public void reading(double timeS, Reading reading) {}
        };

        /** A setting as it stands after every correction; at 0 those that were in force when it was lit. */
        void setting(double timeS, Setting setting);

        /** A reading of the chamber, the gas, the surroundings or the cylinder; those of one channel in order of time. */
        void reading(double timeS, Reading reading);
    }

    /** A burn of a store. */
    public StoredBurn(ReadingStore store, ForgeDescription forge, Burn burn) {
        this.store = store;
        this.forge = forge;
        this.burn = burn;
    }

    /**
     * All that the store holds of it.
     *
     * @param progress told how many of {@link #STEPS} are done
     * @param tap takes it too
     * @return empty without a good chamber reading
     */
    public Optional<GatheredBurn> gather(IntConsumer progress, Tap tap) throws StoreException {
        TimeRange range = range();
        BurnIntake intake = new BurnIntake(burn.start());
        hands(range, intake, tap);
        for (int i = 0; i < CHANNELS.size(); i++) {
            progress.accept(i);
            store.readings(new Channel(forge.id(), CHANNELS.get(i)), range, reading -> {
                intake.take(reading);
                tap.reading(reading.sourceTime().secondsSince(burn.start()), reading);
            });
        }
        progress.accept(STEPS);
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
    private void hands(TimeRange range, BurnIntake intake, Tap tap) throws StoreException {
        StoredLog log = new StoredLog(store, forge.id());
        ResolvedLog settings = log.settingsTo(range.to());
        for (Setting setting : settings.inForce(burn.start()).values()) {
            intake.take(setting);
            tap.setting(0, setting);
        }
        for (Setting setting : settings.settings()) {
            if (setting.time().isAfter(burn.start()) && setting.time().isBefore(range.to())) {
                intake.take(setting);
                tap.setting(setting.time().secondsSince(burn.start()), setting);
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
