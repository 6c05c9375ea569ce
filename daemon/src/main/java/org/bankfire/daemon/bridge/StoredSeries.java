package org.bankfire.daemon.bridge;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.dashboard.source.SeriesArchive;
import org.bankfire.dashboard.source.SourceException;

/** Thins stored series for a screen, from the coarsest roll-up that is fine enough. */
public final class StoredSeries implements SeriesArchive {
    private final ReadingStore store;

    /** Series out of {@code store}. */
    public StoredSeries(ReadingStore store) {
        this.store = store;
    }

    @Override
    public List<SeriesPoint> series(Channel channel, WallTime from, WallTime to, int maxPoints) {
        long stepMicros = Math.max(1, (to.epochMicros() - from.epochMicros() + maxPoints - 1) / maxPoints);
        TimeRange range = new TimeRange(from, to);
        Steps steps = new Steps(from, stepMicros);
        try {
            if (stepMicros >= Rollup.Width.FIVE_MINUTES.micros()) {
                addRollups(steps, channel, range, Rollup.Width.FIVE_MINUTES);
            } else if (stepMicros >= Rollup.Width.TEN_SECONDS.micros()) {
                addRollups(steps, channel, range, Rollup.Width.TEN_SECONDS);
            } else {
                store.readings(channel, range, reading -> {
                    if (reading.quality().level() != Quality.Level.BAD) {
                        double value = reading.value();
                        steps.add(reading.sourceTime(), value, value, value, 1);
                    }
                });
            }
        } catch (StoreException failure) {
            throw new SourceException(
                    "the stored series of " + channel + " cannot be read: " + failure.getMessage(), failure);
        }
        return steps.finish();
    }

    private void addRollups(Steps steps, Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        for (Rollup rollup : store.rollups(channel, range, width)) {
            WallTime middle = rollup.start().plusMicros(width.micros() / 2);
            steps.add(middle, rollup.min(), rollup.mean(), rollup.max(), rollup.count());
        }
    }

    @Override
    public List<Channel> channels(String forge) {
        try {
            return store.channels(forge);
        } catch (StoreException failure) {
            throw new SourceException("the channels of " + forge + " cannot be read: " + failure.getMessage(), failure);
        }
    }

    /** Gathers values in time order into steps of equal length. */
    private static final class Steps {
        private final WallTime from;
        private final long stepMicros;
        private final List<SeriesPoint> points = new ArrayList<>();
        private long step = -1;
        private double min;
        private double max;
        private double sum;
        private long count;

        Steps(WallTime from, long stepMicros) {
            this.from = from;
            this.stepMicros = stepMicros;
        }

        void add(WallTime time, double low, double mean, double high, long readings) {
            long here = Math.floorDiv(time.epochMicros() - from.epochMicros(), stepMicros);
            if (here != step) {
                closeStep();
                step = here;
                min = Double.POSITIVE_INFINITY;
                max = Double.NEGATIVE_INFINITY;
                sum = 0;
                count = 0;
            }
            min = Math.min(min, low);
            max = Math.max(max, high);
            sum += mean * readings;
            count += readings;
        }

        List<SeriesPoint> finish() {
            closeStep();
            return points;
        }

        private void closeStep() {
            if (count > 0) {
                WallTime middle = from.plusMicros(step * stepMicros + stepMicros / 2);
                points.add(new SeriesPoint(middle, min, sum / count, max));
            }
        }
    }
}
