package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.monitor.UnwatchedForge;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ForgeConfig;
import org.jspecify.annotations.Nullable;

/**
 * Correction and monitoring of several forges: the same code for live and recorded readings. It has no thread and no
 * clock of its own; one thread uses it.
 *
 * <p>Readings of a forge that is not configured, or not watched any more, are kept as received.
 */
public final class Pipeline {
    private final Map<String, ForgeLane> lanes = new LinkedHashMap<>();
    private final Map<String, UnwatchedForge> unwatched = new LinkedHashMap<>();
    private final PipelineOutput output;
    private final PipelineOutput keeper;
    private final Lease lease;

    /**
     * Configured forges that are not watched.
     *
     * @param why by their ids, in whole sentences
     * @param keeper takes what comes of them: it does nothing but keep it, since what hung may be any of the rest
     */
    public record Aside(Map<String, String> why, PipelineOutput keeper) {}

    /** A pipeline that watches all configured forges. */
    public Pipeline(List<ForgeConfig> forges, PipelineOutput output) {
        this(forges, output, new Aside(Map.of(), output), new Lease());
    }

    /**
     * A pipeline over the configured forges.
     *
     * @param lease told which forge is in hand
     */
    public Pipeline(List<ForgeConfig> forges, PipelineOutput output, Aside aside, Lease lease) {
        this.output = output;
        this.keeper = aside.keeper();
        this.lease = lease;
        for (ForgeConfig forge : forges) {
            lease.takeUp(forge.id());
            String why = aside.why().get(forge.id());
            if (why == null) {
                lanes.put(forge.id(), new ForgeLane(forge, output));
            } else {
                unwatched.put(forge.id(), new UnwatchedForge(forge.id(), why, output::onAlarm));
            }
        }
        lease.putDown();
    }

    /** Says that what follows concerns {@code forge}, until the next such call. */
    void takeUp(String forge) {
        lease.takeUp(forge);
    }

    /** Says that what follows concerns no forge by itself. */
    void putDown() {
        lease.putDown();
    }

    /** Configured forges that are not watched. */
    public Collection<UnwatchedForge> unwatched() {
        return unwatched.values();
    }

    /**
     * Does what a user asks about an alarm of a configured forge, and keeps it as a note.
     *
     * @param now the daemon's time
     * @return false when it does not apply as the alarm stands
     * @throws IllegalArgumentException when the alarm is to be shelved for longer than it may be, or for an unknown forge
     */
    public boolean act(String forge, AlarmAction action, WallTime now) {
        UnwatchedForge aside = unwatched.get(forge);
        if (aside == null) {
            return laneOf(forge).act(action, now);
        }
        takeUp(forge);
        Optional<Note> note = aside.act(action, now);
        note.ifPresent(keeper::onNote);
        return note.isPresent();
    }

    /**
     * Takes the present output of a pressure channel's transducer as its zero.
     *
     * @return what was taken, or why not, in words
     * @throws IllegalArgumentException for an unknown forge
     */
    public String captureZero(String forge, String channel, WallTime now) {
        UnwatchedForge aside = unwatched.get(forge);
        return aside == null ? laneOf(forge).captureZero(channel, now) : aside.why();
    }

    private ForgeLane laneOf(String forge) {
        ForgeLane lane = lane(forge);
        if (lane == null) {
            throw new IllegalArgumentException("forge \"" + forge + "\" is not configured");
        }
        return lane;
    }

    public Collection<ForgeLane> lanes() {
        return lanes.values();
    }

    /** The lane of a forge that is watched, or null; it is then taken to be in hand. */
    public @Nullable ForgeLane lane(String forge) {
        takeUp(forge);
        return lanes.get(forge);
    }

    /** Where what is not watched is kept. */
    private PipelineOutput keeperOf(String forge) {
        return unwatched.containsKey(forge) ? keeper : output;
    }

    /** Takes one pack; what it holds is passed on in order of source time. */
    public void accept(Pack pack) {
        if (isOneFrame(pack)) {
            acceptFrame(pack.readings(), pack.notes(), pack.settings());
        } else {
            acceptInTimeOrder(pack);
        }
    }

    /** Whether the whole pack speaks of one forge at one moment, as nearly all do. */
    private static boolean isOneFrame(Pack pack) {
        List<Reading> readings = pack.readings();
        if (readings.isEmpty()) {
            return pack.notes().size() + pack.settings().size() <= 1;
        }
        Reading first = readings.get(0);
        for (int i = 1; i < readings.size(); i++) {
            Reading reading = readings.get(i);
            if (!reading.sourceTime().equals(first.sourceTime())
                    || !reading.channel().forge().equals(first.channel().forge())) {
                return false;
            }
        }
        return pack.notes().isEmpty() && pack.settings().isEmpty();
    }

    private void acceptInTimeOrder(Pack pack) {
        record Key(WallTime time, String forge) {}
        record Frame(List<Reading> readings, List<Note> notes, List<Setting> settings) {}
        Map<Key, Frame> frames = new LinkedHashMap<>();
        BiFunction<WallTime, String, Frame> frameAt = (time, forge) -> frames.computeIfAbsent(
                new Key(time, forge), key -> new Frame(new ArrayList<>(), new ArrayList<>(), new ArrayList<>()));
        pack.readings()
                .forEach(r -> frameAt.apply(r.sourceTime(), r.channel().forge())
                        .readings
                        .add(r));
        pack.notes().forEach(n -> frameAt.apply(n.time(), n.forge()).notes.add(n));
        pack.settings().forEach(s -> frameAt.apply(s.time(), s.forge()).settings.add(s));
        frames.entrySet().stream()
                .sorted(Map.Entry.comparingByKey(Comparator.comparing(Key::time)))
                .map(Map.Entry::getValue)
                .forEach(frame -> acceptFrame(frame.readings, frame.notes, frame.settings));
    }

    /**
     * Notes and settings come first: they say under what the readings of that moment were taken. What the user did about
     * alarms comes last: it answers what the readings raised.
     */
    private void acceptFrame(List<Reading> readings, List<Note> notes, List<Setting> settings) {
        acceptNotes(notes, false);
        for (Setting setting : settings) {
            ForgeLane lane = lane(setting.forge());
            if (lane != null) {
                lane.accept(setting);
            } else {
                keeperOf(setting.forge()).onSetting(setting);
            }
        }
        if (!readings.isEmpty()) {
            String forge = readings.get(0).channel().forge();
            ForgeLane lane = lane(forge);
            if (lane != null) {
                lane.acceptReadings(readings);
            } else {
                readings.forEach(keeperOf(forge)::onReading);
            }
        }
        acceptNotes(notes, true);
    }

    private void acceptNotes(List<Note> notes, boolean answers) {
        for (Note note : notes) {
            if (AlarmAction.isKeptAs(note.name()) != answers) {
                continue;
            }
            ForgeLane lane = lane(note.forge());
            if (lane != null) {
                lane.accept(note);
            } else {
                keeperOf(note.forge()).onNote(note);
            }
        }
    }
}
