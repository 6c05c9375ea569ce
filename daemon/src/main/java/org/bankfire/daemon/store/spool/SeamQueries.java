package org.bankfire.daemon.store.spool;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SpoolZones;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.jspecify.annotations.Nullable;

/**
 * Readings and roll-ups of a range, whoever has them: the file or the server. The seam between the two moves on while a
 * long query runs, and what is behind it is deleted from the file. What a query reads of the file counts only when the seam
 * is still before it afterwards; what the seam has passed is asked of the server.
 */
final class SeamQueries {
    /** Readings between two looks at the seam, some 200 kB: beside another process each look is a small query. */
    private static final int BLOCK = 1_000;

    private static final WallTime BEGINNING = TimeRange.ALL.from();

    private final SqliteStore local;
    private final Server server;

    /** The server, ready to be asked. */
    interface Server {
        StoreQueries ready() throws StoreException;
    }

    /** Which readings are asked for. */
    interface Question {
        void ask(StoreQueries source, TimeRange range, Consumer<Reading> sink) throws StoreException;
    }

    SeamQueries(SqliteStore local, Server server) {
        this.local = local;
        this.server = server;
    }

    /** Calls {@code sink} with every reading in the range, in order of source time, then channel name. */
    void readings(TimeRange range, Question question, Consumer<Reading> sink) throws StoreException {
        Told told = new Told(range.from(), sink);
        while (!ask(question, new TimeRange(told.until(), range.to()), told)) {
            // The seam has passed what is to be told next: from there anew.
        }
    }

    private boolean ask(Question question, TimeRange range, Told told) throws StoreException {
        Optional<SpoolZones> zones = local.zones();
        if (zones.isEmpty()) {
            question.ask(local, range, told::tell);
            return true;
        }
        for (Piece piece : pieces(zones.get(), range)) {
            if (!piece.here) {
                question.ask(server.ready(), piece.range, told::tell);
                continue;
            }
            Block block = new Block(zones.get().localFrom(), told);
            try {
                question.ask(local, piece.range, block::add);
                block.tell();
            } catch (QueryEndedException ended) {
                if (ended.failure != null) {
                    throw ended.failure;
                }
                return false;
            }
        }
        return true;
    }

    /** As {@link StoreQueries#rollups}. */
    List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        while (true) {
            Optional<SpoolZones> zones = local.zones();
            if (zones.isEmpty()) {
                return local.rollups(channel, range, width);
            }
            List<Piece> pieces = pieces(zones.get(), range);
            List<List<Rollup>> found = new ArrayList<>();
            for (Piece piece : pieces) {
                found.add(piece.here ? local.rollups(channel, piece.range, width) : List.of());
            }
            // The server, which may be slow, is asked afterwards: it keeps what it has.
            if (!localFrom().isAfter(zones.get().localFrom())) {
                List<Rollup> all = new ArrayList<>();
                for (int i = 0; i < pieces.size(); i++) {
                    Piece piece = pieces.get(i);
                    all.addAll(piece.here ? found.get(i) : server.ready().rollups(channel, piece.range, width));
                }
                return all;
            }
        }
    }

    private WallTime localFrom() throws StoreException {
        return local.zones().map(SpoolZones::localFrom).orElse(BEGINNING);
    }

    /** A stretch of time, and whether the file has it. */
    private record Piece(boolean here, TimeRange range) {}

    private static List<Piece> pieces(SpoolZones zones, TimeRange range) {
        WallTime own = zones.ownUntil();
        WallTime from = zones.localFrom();
        if (own.equals(from)) {
            return List.of(new Piece(true, range)); // all is here
        }
        List<Piece> pieces = new ArrayList<>();
        part(range, BEGINNING, own).ifPresent(part -> pieces.add(new Piece(true, part)));
        part(range, own, from).ifPresent(part -> pieces.add(new Piece(false, part)));
        part(range, from, TimeRange.ALL.to()).ifPresent(part -> pieces.add(new Piece(true, part)));
        return pieces;
    }

    private static Optional<TimeRange> part(TimeRange range, WallTime from, WallTime to) {
        WallTime begin = range.from().isBefore(from) ? from : range.from();
        WallTime end = range.to().isAfter(to) ? to : range.to();
        return begin.isBefore(end) ? Optional.of(new TimeRange(begin, end)) : Optional.empty();
    }

    /** What the asker was told: each reading once, though parts are asked for again. */
    private static final class Told {
        private final WallTime from;
        private final Consumer<Reading> sink;
        private @Nullable Reading last;

        private Told(WallTime from, Consumer<Reading> sink) {
            this.from = from;
            this.sink = sink;
        }

        /** Everything before was told; of this moment perhaps some channels. */
        private WallTime until() {
            return last == null ? from : last.sourceTime();
        }

        private void tell(Reading reading) {
            if (last != null
                    && reading.sourceTime().equals(last.sourceTime())
                    && reading.channel().name().compareTo(last.channel().name()) <= 0) {
                return;
            }
            last = reading;
            sink.accept(reading);
        }
    }

    /** Readings of the file that are told once it is sure that none between them was deleted before it was read. */
    private final class Block {
        private final WallTime seam;
        private final Told told;
        private final List<Reading> readings = new ArrayList<>();

        private Block(WallTime seam, Told told) {
            this.seam = seam;
            this.told = told;
        }

        private void add(Reading reading) {
            readings.add(reading);
            if (readings.size() == BLOCK) {
                tell();
            }
        }

        private void tell() {
            requireSeamBefore(told.until());
            readings.forEach(told::tell);
            readings.clear();
        }

        private void requireSeamBefore(WallTime time) {
            try {
                WallTime now = localFrom();
                if (now.isAfter(seam) && now.isAfter(time)) {
                    throw new QueryEndedException(null);
                }
            } catch (StoreException e) {
                throw new QueryEndedException(e);
            }
        }
    }

    /** Ends a query of the file from within: since the seam has passed what is being read, or of a failure. */
    private static final class QueryEndedException extends RuntimeException {
        private static final long serialVersionUID = 1L;

        private final @Nullable StoreException failure;

        private QueryEndedException(@Nullable StoreException failure) {
            super("the query of the file has ended", failure, false, false);
            this.failure = failure;
        }
    }
}
