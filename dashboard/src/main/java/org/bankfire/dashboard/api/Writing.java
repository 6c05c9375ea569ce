package org.bankfire.dashboard.api;

import org.bankfire.analysis.logbook.BadEntryException;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;

/** What is checked before anything is written down. */
final class Writing {
    /** Clocks of a workshop differ by less; what is further in the future is a typing error, s. */
    private static final double AHEAD_S = 300;

    private Writing() {}

    /** The value as it is to be kept. */
    static Worded check(String name, String value, String unit) {
        try {
            return EntryRules.check(name, value, unit);
        } catch (BadEntryException bad) {
            throw ApiException.bad(bad.field(), bad.value(), bad.allowed());
        }
    }

    /** When it applies: now when nothing is said, and at any time that is past. */
    static WallTime time(String text, ForgeFeed feed) {
        if (text.isEmpty()) {
            return feed.now();
        }
        WallTime time = Requests.time("time", text);
        WallTime latest = feed.now().plusSeconds(AHEAD_S);
        if (time.isAfter(latest)) {
            throw ApiException.bad("time", text, "a time that is past, or now");
        }
        return time;
    }

    /** The first entry of a time and name stays: a second one would be lost without a word. */
    static void refuseTwice(LogBook logBook, String forge, EntryKey key) {
        if (logBook.log(forge, key.time(), key.time().plusMicros(1)).entry(key).isPresent()) {
            throw new ApiException(
                    409,
                    key.name() + " is written down for " + key.time()
                            + " already; correct that entry, or give another time",
                    "time",
                    key.time().toString(),
                    "a time without an entry of that name");
        }
    }
}
