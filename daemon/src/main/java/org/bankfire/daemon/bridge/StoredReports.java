package org.bankfire.daemon.bridge;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.util.Optional;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.replay.RecordedBurnWriter;
import org.bankfire.daemon.export.StoredExport;
import org.bankfire.daemon.report.burn.BurnFiler;
import org.bankfire.daemon.report.burn.BurnReport;
import org.bankfire.daemon.report.burn.WrittenReport;
import org.bankfire.daemon.report.series.SeriesReport;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.dashboard.source.FitBook;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.ReportBook;
import org.bankfire.dashboard.source.SeriesArchive;
import org.bankfire.dashboard.source.SourceException;
import org.bankfire.dashboard.source.TrialBook.Asked;

/**
 * Reports of burns and trials from the store, one at a time: each takes some megabytes and a second or two of a small board's processor,
 * which must not be multiplied by impatient readers. They are made on the thread of the one who asks, never on the ledger's.
 */
public final class StoredReports implements ReportBook {
    /** Several reports' time; who waits longer is told to try again. */
    private static final long PATIENCE_S = 10;
    /** Whoever waits holds one of the pages' dozen threads, which alarms are acknowledged by too. */
    private static final int MOST_WAITING = 2;
    /** Each export holds a thread, a query and a buffer for as long as its reader takes. */
    private static final int MOST_EXPORTS = 2;

    private final ReadingStore store;
    private final SeriesArchive series;
    private final ForgeFeed feed;
    private final FitBook fits;
    private final StoredTrials trials;
    private final Supplier<WallTime> clock;
    private final Semaphore reporting = new Semaphore(1, true);
    private final Semaphore exporting = new Semaphore(MOST_EXPORTS, true);

    /**
     * Reports.
     *
     * @param clock the time of day
     */
    public StoredReports(
            ReadingStore store,
            SeriesArchive series,
            ForgeFeed feed,
            FitBook fits,
            StoredTrials trials,
            Supplier<WallTime> clock) {
        this.store = store;
        this.series = series;
        this.feed = feed;
        this.fits = fits;
        this.trials = trials;
        this.clock = clock;
    }

    @Override
    public Optional<byte[]> report(String burnId, Format format, Reader reader) {
        take(reporting, "another report is being made");
        try {
            WallTime now = clock.get();
            Optional<BurnReport> report = new BurnFiler(store, series, feed.forges(), fits::fitOf).report(burnId, now);
            return report.map(each -> WrittenReport.of(each.content(reader, now), format, reader.paper(), now));
        } catch (StoreException failure) {
            throw new SourceException("burn " + burnId + " cannot be read: " + failure.getMessage(), failure);
        } finally {
            reporting.release();
        }
    }

    @Override
    public byte[] trials(String forge, Asked asked, Format format, Reader reader) {
        take(reporting, "another report is being made");
        try {
            WallTime now = clock.get();
            return WrittenReport.of(
                    new SeriesReport(trials.series(forge, asked)).content(reader, now), format, reader.paper(), now);
        } finally {
            reporting.release();
        }
    }

    @Override
    public Optional<Export> export(String burnId, Recording recording) {
        Burn burn;
        try {
            Optional<Burn> stored = store.burn(burnId);
            if (stored.isEmpty()) {
                return Optional.empty();
            }
            burn = stored.get();
        } catch (StoreException failure) {
            throw new SourceException("burn " + burnId + " cannot be read: " + failure.getMessage(), failure);
        }
        return Optional.of(out -> {
            take(exporting, "other burns are being taken away");
            try {
                write(burn, recording, out);
            } finally {
                exporting.release();
            }
        });
    }

    private void write(Burn burn, Recording recording, OutputStream out) throws IOException {
        RecordedBurnWriter.Format format =
                recording == Recording.CSV ? RecordedBurnWriter.Format.CSV : RecordedBurnWriter.Format.SENML;
        try (RecordedBurnWriter writer = new RecordedBurnWriter(new KeptOpen(out), format)) {
            StoredExport.write(store, burn, writer);
        } catch (StoreException failure) {
            throw new SourceException("burn " + burn.id() + " cannot be read: " + failure.getMessage(), failure);
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            throw new SourceException("the daemon ends");
        }
    }

    private static void take(Semaphore permits, String busy) {
        try {
            if (permits.getQueueLength() < MOST_WAITING && permits.tryAcquire(PATIENCE_S, TimeUnit.SECONDS)) {
                return;
            }
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            throw new SourceException("the daemon ends");
        }
        throw new SourceException(busy + "; try again in a moment");
    }

    /** A stream that others close. */
    private static final class KeptOpen extends FilterOutputStream {
        KeptOpen(OutputStream out) {
            super(out);
        }

        @Override
        public void write(byte[] bytes, int offset, int length) throws IOException {
            out.write(bytes, offset, length);
        }

        @Override
        public void close() throws IOException {
            flush();
        }
    }
}
