package org.bankfire.daemon.fitting;

import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * What hands did is told otherwise than before: an entry of the log was corrected, or written down for a time that has
 * passed.
 *
 * @param at when that was; null for just now
 * @param entry which entry
 * @param movedTo when it applied in truth; null where it was written down for
 */
record Retold(
        @Nullable WallTime at, EntryKey entry, @Nullable WallTime movedTo) {
    static Retold by(Correction correction) {
        return new Retold(correction.at(), correction.entry(), correction.movedTo());
    }

    static Retold justNow(EntryKey entry, @Nullable WallTime movedTo) {
        return new Retold(null, entry, movedTo);
    }

    /** Whether entries of that name say anything to a fit. */
    static boolean concernsFits(String name) {
        return isInForceUntilTheNext(name) || name.equals(Note.STOCK) || name.equals(ChannelNames.CYLINDER);
    }

    private static boolean isInForceUntilTheNext(String name) {
        return name.equals(Setting.PLUG) || name.equals(ForgeMonitor.JET_SETTING);
    }

    /** Whether it is told later than that. */
    boolean isAfter(WallTime time) {
        return at == null || at.isAfter(time);
    }

    /** Whether it says something of burns that began long after it. */
    boolean lasts() {
        return isInForceUntilTheNext(entry.name());
    }

    /** The first moment of which another thing is told now. */
    WallTime first() {
        return movedTo != null && movedTo.isBefore(entry.time()) ? movedTo : entry.time();
    }

    /** The last of the moments at which it applies or applied. */
    WallTime last() {
        return movedTo != null && movedTo.isAfter(entry.time()) ? movedTo : entry.time();
    }
}
