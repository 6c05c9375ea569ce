package org.bankfire.daemon.store.influx;

import java.io.IOException;
import java.io.InterruptedIOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.influxdb.InfluxDB;
import org.influxdb.InfluxDBException;
import org.influxdb.InfluxDBIOException;
import org.influxdb.dto.Query;
import org.influxdb.dto.QueryResult;
import org.jspecify.annotations.Nullable;

/**
 * The answer to a query, put together from chunks. Asked in one piece, a server cuts an answer off at its {@code
 * max-row-limit} and tells it in a flag that the client library passes over; chunks it sends until all is told.
 */
final class WholeAnswer {
    /** Rows a chunk; what servers take unless told otherwise. */
    private static final int CHUNK_ROWS = 10_000;

    private final CompletableFuture<List<QueryResult.Series>> whole = new CompletableFuture<>();
    // These are of the thread that reads the answer alone, until `whole` hands it over.
    private final List<QueryResult.Series> told = new ArrayList<>();
    private @Nullable String refusal;

    private WholeAnswer() {}

    /**
     * Asks and waits.
     *
     * @param longest time to wait, longer than the client's own time-outs
     * @throws InfluxDBIOException when the server cannot be reached, answers with another status than success, or too late
     * @throws InfluxDBException when the server says that it cannot do that
     */
    static List<QueryResult.Series> to(Query query, InfluxDB client, Duration longest) {
        WholeAnswer answer = new WholeAnswer();
        client.query(query, CHUNK_ROWS, answer::take, answer::end, answer.whole::completeExceptionally);
        try {
            return answer.whole.get(longest.toMillis(), TimeUnit.MILLISECONDS);
        } catch (ExecutionException failure) {
            throw asClientFailure(failure.getCause());
        } catch (TimeoutException late) {
            throw notAnswered(new InterruptedIOException("no answer within " + longest.toSeconds() + " s"), late);
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            throw notAnswered(new IOException("stopped while waiting for the answer"), stopped);
        } finally {
            answer.whole.cancel(false);
        }
    }

    /** No word of the server's: what was asked for is neither done nor refused. */
    private static InfluxDBIOException notAnswered(IOException why, Exception cause) {
        why.initCause(cause);
        return new InfluxDBIOException(why);
    }

    private static RuntimeException asClientFailure(@Nullable Throwable failure) {
        if (failure instanceof IOException io) {
            return new InfluxDBIOException(io);
        }
        return failure instanceof RuntimeException known ? known : new InfluxDBException(failure);
    }

    private void take(InfluxDB.Cancellable request, QueryResult chunk) {
        if (whole.isDone()) {
            request.cancel();
            return;
        }
        // A failure while reading comes as such a chunk first and then as itself, which says more: so the end decides.
        refusal = chunk.hasError() ? chunk.getError() : refusal;
        for (QueryResult.Result result : orNone(chunk.getResults())) {
            refusal = result.hasError() ? result.getError() : refusal;
            orNone(result.getSeries()).forEach(this::add);
        }
    }

    private static <T> List<T> orNone(@Nullable List<T> list) {
        return list == null ? List.of() : list;
    }

    private void add(QueryResult.Series series) {
        QueryResult.Series last = told.isEmpty() ? null : told.get(told.size() - 1);
        if (last != null
                && Objects.equals(last.getName(), series.getName())
                && Objects.equals(last.getTags(), series.getTags())) {
            last.getValues().addAll(series.getValues());
        } else {
            series.setValues(new ArrayList<>(series.getValues()));
            told.add(series);
        }
    }

    private void end() {
        if (refusal == null) {
            whole.complete(told);
        } else {
            whole.completeExceptionally(new InfluxDBException(refusal));
        }
    }
}
