package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.jspecify.annotations.Nullable;

/**
 * A recorded pack as its source once sent it. A record holds raw readings and beside them what was corrected from them;
 * correcting anew must begin at the raw ones.
 */
final class RecordedPack {
    private static final List<String> RAW_SUFFIXES = List.of(
            ChannelNames.EMF_SUFFIX,
            ChannelNames.LINEAR_SUFFIX,
            ChannelNames.VOLTS_SUFFIX,
            ChannelNames.RATIO_SUFFIX,
            ChannelNames.RAW_SUFFIX);

    private RecordedPack() {}

    /** The pack without what was corrected from it, and with {@code X-raw} under its first name again. */
    static Pack asSent(Pack recorded) {
        Set<Moment> corrected = new HashSet<>();
        for (Reading reading : recorded.readings()) {
            Channel result = correctedFrom(reading.channel());
            if (result != null) {
                corrected.add(new Moment(result, reading.sourceTime()));
            }
        }
        if (corrected.isEmpty()) {
            return recorded;
        }
        List<Reading> sent = new ArrayList<>(recorded.readings().size());
        for (Reading reading : recorded.readings()) {
            if (!corrected.contains(new Moment(reading.channel(), reading.sourceTime()))) {
                sent.add(withFirstName(reading));
            }
        }
        return new Pack(sent, recorded.notes(), recorded.settings());
    }

    /** The earliest time in the pack; null for an empty one. */
    static @Nullable WallTime firstTime(Pack pack) {
        WallTime first = null;
        for (Reading reading : pack.readings()) {
            first = earlier(first, reading.sourceTime());
        }
        for (var note : pack.notes()) {
            first = earlier(first, note.time());
        }
        for (var setting : pack.settings()) {
            first = earlier(first, setting.time());
        }
        return first;
    }

    private record Moment(Channel channel, WallTime time) {}

    private static WallTime earlier(@Nullable WallTime first, WallTime other) {
        return first == null || other.isBefore(first) ? other : first;
    }

    private static @Nullable Channel correctedFrom(Channel raw) {
        for (String suffix : RAW_SUFFIXES) {
            String name = raw.name();
            if (name.endsWith(suffix) && name.length() > suffix.length()) {
                return new Channel(raw.forge(), name.substring(0, name.length() - suffix.length()));
            }
        }
        return null;
    }

    private static Reading withFirstName(Reading reading) {
        String name = reading.channel().name();
        if (!name.endsWith(ChannelNames.RAW_SUFFIX)) {
            return reading;
        }
        String first = name.substring(0, name.length() - ChannelNames.RAW_SUFFIX.length());
        return new Reading(
                new Channel(reading.channel().forge(), first),
                reading.value(),
                reading.unit(),
                reading.standardUncertainty(),
                reading.quality(),
                reading.sourceTime(),
                reading.receiptTime());
    }
}
