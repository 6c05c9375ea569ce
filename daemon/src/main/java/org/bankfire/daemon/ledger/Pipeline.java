package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import org.bankfire.analysis.alarm.AlarmAction;
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
 * <p>Readings of a forge that is not configured are kept as received and not watched.
 */
public final class Pipeline {
    private final Map<String, ForgeLane> lanes = new LinkedHashMap<>();
    private final PipelineOutput output;

    /** A pipeline over the configured forges. */
    public Pipeline(List<ForgeConfig> forges, PipelineOutput output) {
        this.output = output;
        for (ForgeConfig forge : forges) {
            lanes.put(forge.id(), new ForgeLane(forge, output));
        }
    }

    public Collection<ForgeLane> lanes() {
        return lanes.values();
    }

    /** The lane of a configured forge, or null. */
    public @Nullable ForgeLane lane(String forge) {
        return lanes.get(forge);
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
            ForgeLane lane = lanes.get(setting.forge());
            if (lane != null) {
                lane.accept(setting);
            } else {
                output.onSetting(setting);
            }
        }
        if (!readings.isEmpty()) {
            ForgeLane lane = lanes.get(readings.get(0).channel().forge());
            if (lane != null) {
                lane.acceptReadings(readings);
            } else {
                readings.forEach(output::onReading);
            }
        }
        acceptNotes(notes, true);
    }

    private void acceptNotes(List<Note> notes, boolean answers) {
        for (Note note : notes) {
            if (AlarmAction.isKeptAs(note.name()) != answers) {
                continue;
            }
            ForgeLane lane = lanes.get(note.forge());
            if (lane != null) {
                lane.accept(note);
            } else {
                output.onNote(note);
            }
        }
    }
}
