package org.bankfire.daemon.store.influx;

import java.io.IOException;
import java.io.InterruptedIOException;
import java.nio.file.Files;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import okhttp3.Dispatcher;
import okhttp3.OkHttpClient;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.StoreException;
import org.influxdb.InfluxDB;
import org.influxdb.InfluxDB.ConsistencyLevel;
import org.influxdb.InfluxDBFactory;
import org.influxdb.InfluxDBIOException;
import org.influxdb.dto.BoundParameterQuery;
import org.influxdb.dto.Query;
import org.influxdb.dto.QueryResult;
import org.jspecify.annotations.Nullable;

/** Requests to the server, with what can go wrong told apart by whether trying again helps. Any thread may use it. */
final class ServerConnection implements AutoCloseable {
    private static final Duration CONNECT = Duration.ofSeconds(5);
    /** A server under load may take seconds for a large block; one that hangs must not hold a thread for long. */
    private static final Duration ANSWER = Duration.ofSeconds(30);
    /** Queries at once: some pages being looked at; more wait. Each holds a page of rows in memory. */
    private static final int MOST_AT_ONCE = 4;
    /** No secret is longer; a wrong file must not fill the memory. */
    private static final long LONGEST_SECRET_BYTES = 4_096;

    private static final int BAD_REQUEST = 400;
    private static final int UNAUTHORIZED = 401;
    private static final int FORBIDDEN = 403;
    private static final int TOO_MANY = 429;
    private static final int SERVER_FAULT = 500;
    private static final int TOO_LARGE = 413;
    private static final int UNPROCESSABLE = 422;

    /** Begins the server's words when it took all but what is older than it keeps. */
    private static final String BEYOND_RETENTION = "partial write: points beyond retention policy";

    /** The client wants a user; a server that asks for none passes over it. */
    private static final String NOBODY = "nobody";

    private final InfluxSettings settings;
    private final InfluxDB client;
    /** For a request and all of its answer. */
    private final Duration call;

    /** @throws StoreException when the password cannot be read; names the file */
    ServerConnection(InfluxSettings settings) throws StoreException {
        this(settings, ANSWER);
    }

    /** @param answer how long to wait for a word of the server */
    ServerConnection(InfluxSettings settings, Duration answer) throws StoreException {
        this.settings = settings;
        this.call = answer.multipliedBy(2);
        OkHttpClient.Builder http = new OkHttpClient.Builder()
                .connectTimeout(CONNECT)
                .readTimeout(answer)
                .writeTimeout(answer)
                .callTimeout(call)
                .dispatcher(dispatcher())
                .addInterceptor(HttpRefusal::requireSuccess);
        // MessagePack carries times and whole numbers exactly; JSON would round them to doubles.
        String user = settings.user();
        client = InfluxDBFactory.connect(
                settings.url().toString(),
                user == null ? NOBODY : user,
                user == null ? NOBODY : secret(settings),
                http,
                InfluxDB.ResponseFormat.MSGPACK);
        client.enableGzip();
    }

    /** Answers to queries are read by threads of these, while the asking thread waits; writes need none. */
    private static Dispatcher dispatcher() {
        Dispatcher dispatcher = new Dispatcher(Executors.newCachedThreadPool(task -> {
            Thread thread = new Thread(task, "influx-answer");
            thread.setDaemon(true);
            return thread;
        }));
        dispatcher.setMaxRequests(MOST_AT_ONCE);
        dispatcher.setMaxRequestsPerHost(MOST_AT_ONCE);
        return dispatcher;
    }

    private static String secret(InfluxSettings settings) throws StoreException {
        try {
            if (Files.size(settings.passwordFile()) > LONGEST_SECRET_BYTES) {
                throw new IOException("longer than " + LONGEST_SECRET_BYTES + " bytes");
            }
            List<String> lines = Files.readAllLines(settings.passwordFile());
            if (lines.isEmpty() || lines.get(0).isBlank()) {
                throw new IOException("its first line is empty; allowed is a password or token");
            }
            return lines.get(0).strip();
        } catch (IOException failure) {
            throw new StoreException(
                    "password file " + settings.passwordFile() + " of the InfluxDB server cannot be read: " + failure,
                    failure);
        }
    }

    /** Where and what, for messages. */
    String name() {
        return "InfluxDB " + settings.url() + " database " + settings.database();
    }

    String database() {
        return settings.database();
    }

    /**
     * Writes lines under a retention policy, the default one when it is empty.
     *
     * @return points that the server left out because they are older than the policy keeps
     */
    long write(String policy, List<String> lines) throws StoreException {
        try {
            client.write(
                    settings.database(), policy, ConsistencyLevel.ONE, TimeUnit.MICROSECONDS, String.join("\n", lines));
            return 0;
        } catch (RuntimeException failure) {
            HttpRefusal refusal = refusal(failure);
            if (refusal != null && isOfContent(refusal) && said(refusal).startsWith(BEYOND_RETENTION)) {
                return dropped(said(refusal));
            }
            throw classified("write " + lines.size() + " points", failure);
        }
    }

    /**
     * Asks something; what is in {@code bound} stands in the query as {@code $name}.
     *
     * @throws ServerRefusedException when the server does not know how to do that, or the user may not
     */
    List<QueryResult.Series> query(String influxQl, Map<String, Object> bound) throws StoreException {
        BoundParameterQuery.QueryBuilder query =
                BoundParameterQuery.QueryBuilder.newQuery(influxQl).forDatabase(settings.database());
        bound.forEach(query::bind);
        return answer(influxQl, query.create());
    }

    /** Changes something; the server asks for another kind of request for that. */
    void command(String influxQl) throws StoreException {
        answer(influxQl, new Query(influxQl, settings.database(), true));
    }

    private List<QueryResult.Series> answer(String influxQl, Query query) throws StoreException {
        try {
            return WholeAnswer.to(query, client, call.plus(CONNECT));
        } catch (RuntimeException failure) {
            throw classified("answer " + influxQl, failure);
        }
    }

    private StoreException classified(String what, RuntimeException failure) {
        HttpRefusal refusal = refusal(failure);
        if (refusal == null && failure instanceof InfluxDBIOException) {
            Throwable cause = failure.getCause();
            return new ServerAwayException(
                    name() + " does not answer: " + (cause instanceof InterruptedIOException ? "time-out, " : "")
                            + failure.getMessage(),
                    failure);
        }
        String message = name() + " did not " + what + ": "
                + (refusal == null ? String.valueOf(failure.getMessage()) : said(refusal));
        if (refusal != null && isOfContent(refusal)) {
            return new ServerRefusedException(message, false, failure);
        }
        if (refusal != null && refusal.code() == TOO_LARGE) {
            return new ServerRefusedException(message, true, failure);
        }
        if (refusal != null && (refusal.code() == UNAUTHORIZED || refusal.code() == FORBIDDEN)) {
            String user = settings.user();
            return new ServerAwayException(
                    name() + " does not let "
                            + (user == null ? "anybody in without a user" : "user " + user + " in")
                            + ": " + said(refusal),
                    failure);
        }
        // Overload, a shard that is being closed, a missing database: the same may succeed later.
        return new ServerAwayException(message, failure);
    }

    private static @Nullable HttpRefusal refusal(RuntimeException failure) {
        return failure.getCause() instanceof HttpRefusal refusal ? refusal : null;
    }

    private static String said(HttpRefusal refusal) {
        return String.valueOf(refusal.getMessage());
    }

    /** Whether it is what was sent that the server does not take: sent again, it will not be taken either. */
    private static boolean isOfContent(HttpRefusal refusal) {
        return refusal.isOfDatabase() && (refusal.code() == BAD_REQUEST || refusal.code() == UNPROCESSABLE);
    }

    /** Whether the same may succeed in a moment: no answer, or one of a server that starts, ends or is overrun. */
    static boolean mayPass(StoreException failure) {
        HttpRefusal refusal = failure.getCause() instanceof RuntimeException client ? refusal(client) : null;
        return isUnreachable(failure)
                || (refusal != null && (refusal.code() >= SERVER_FAULT || refusal.code() == TOO_MANY));
    }

    /** Whether the server gave no answer at all. */
    static boolean isUnreachable(StoreException failure) {
        return failure.getCause() instanceof InfluxDBIOException client && refusal(client) == null;
    }

    /** The number behind {@code dropped=} in the server's words; 1 when it says none. */
    private static long dropped(String said) {
        int at = said.lastIndexOf("dropped=");
        String digits = at < 0 ? "" : said.substring(at + "dropped=".length()).replaceAll("[^0-9].*", "");
        return digits.isEmpty() ? 1 : Long.parseLong(digits);
    }

    @Override
    public void close() {
        client.close();
    }
}
