package org.bankfire.dashboard.source;

import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.WallTime;

/** The stored series, thinned for a screen. Calls may take a while and may throw {@link SourceException}. */
public interface SeriesArchive {
    /**
     * Minimum, mean and maximum of a channel in equal steps of time.
     *
     * @param from first moment, included
     * @param to last moment, excluded
     * @param maxPoints about the width of the chart in pixels, 1 to 10,000
     * @return in time order; steps without a good value are left out
     */
    List<SeriesPoint> series(Channel channel, WallTime from, WallTime to, int maxPoints);

    /** The channels of a forge that hold any reading. */
    List<Channel> channels(String forge);

    /**
     * One step of a thinned series.
     *
     * @param time middle of the step
     * @param min least value in it, in the channel's unit
     * @param mean mean value
     * @param max greatest value
     */
    record SeriesPoint(WallTime time, double min, double mean, double max) {}
}
