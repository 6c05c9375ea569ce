package org.bankfire.analysis.monitor;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.reading.Reading;
import org.jspecify.annotations.Nullable;

/**
 * The channels of one forge that are followed, in the order in which they were first heard of. The three that watch the
 * fire are there from the beginning, heard of or not.
 */
final class Channels {
    /** Four sensors with raw values, faults and calibrations make some thirty. */
    static final int MOST = 64;

    final ChannelTrack chamber = new ChannelTrack(ChannelTrack.Role.CHAMBER);
    final ChannelTrack pressure = new ChannelTrack(ChannelTrack.Role.GAS);
    final ChannelTrack witness = new ChannelTrack(ChannelTrack.Role.FLAME);

    private final Map<String, ChannelTrack> byName = new HashMap<>();
    private final List<ChannelTrack> inOrder = new ArrayList<>();

    /** The channel of that name, followed from now on; null for a new one beyond {@link #MOST}. */
    @Nullable
    ChannelTrack of(String name) {
        ChannelTrack track = byName.get(name);
        if (track == null && byName.size() < MOST) {
            ChannelTrack.Role role = ChannelTrack.Role.of(name);
            track = switch (role) {
                case CHAMBER -> chamber;
                case GAS -> pressure;
                case FLAME -> witness;
                default -> new ChannelTrack(role);
            };
            byName.put(name, track);
            inOrder.add(track);
        }
        return track;
    }

    List<ChannelTrack> inOrder() {
        return inOrder;
    }

    /** The latest reading of each that has one. */
    List<Reading> latest() {
        List<Reading> latest = new ArrayList<>(inOrder.size());
        for (ChannelTrack track : inOrder) {
            if (track.last != null) {
                latest.add(track.last);
            }
        }
        return latest;
    }

    /** The latest chamber temperature, good or bad, °C; NaN when there is none. */
    double chamberC() {
        Reading reading = chamber.last;
        return reading != null && ChannelTrack.isTemperature(reading) ? ChannelTrack.celsius(reading) : Double.NaN;
    }
}
