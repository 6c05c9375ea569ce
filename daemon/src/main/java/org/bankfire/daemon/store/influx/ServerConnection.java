package org.bankfire.daemon.store.influx;

import java.io.IOException;
import java.net.SocketTimeoutException;
import java.nio.file.Files;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import okhttp3.OkHttpClient;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.StoreException;
import org.influxdb.InfluxDB;
import org.influxdb.InfluxDB.ConsistencyLevel;
import org.influxdb.InfluxDBException;
import org.influxdb.InfluxDBFactory;
import org.influxdb.InfluxDBIOException;
import org.influxdb.dto.BoundParameterQuery;
import org.influxdb.dto.Query;
import org.influxdb.dto.QueryResult;

/** Requests to the server, with what can go wrong told apart by whether trying again helps. Any thread may use it. */
final class ServerConnection implements AutoCloseable {
    private static final Duration CONNECT = Duration.ofSeconds(5);
    /** A server under load may take seconds for a large block; one that hangs must not hold a thread for long. */
    private static final Duration ANSWER = Duration.ofSeconds(30);
    /** No secret is longer; a wrong file must not fill the memory. */
    private static final long LONGEST_SECRET_BYTES = 4_096;

    private final InfluxSettings settings;
    private final InfluxDB client;

    /** @throws StoreException when the password cannot be read; names the file */
    ServerConnection(InfluxSettings settings) throws StoreException {
        this.settings = settings;
        OkHttpClient.Builder http = new OkHttpClient.Builder()
                .connectTimeout(CONNECT)
                .readTimeout(ANSWER)
                .writeTimeout(ANSWER)
                .callTimeout(ANSWER.multipliedBy(2));
        // MessagePack carries times and whole numbers exactly; JSON would round them to doubles.
        client = settings.user() == null
                ? InfluxDBFactory.connect(settings.url().toString(), null, null, http, InfluxDB.ResponseFormat.MSGPACK)
                : InfluxDBFactory.connect(
                        settings.url().toString(),
                        settings.user(),
                        secret(settings),
                        http,
                        InfluxDB.ResponseFormat.MSGPACK);
        client.enableGzip();
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
        } catch (InfluxDBException.PointsBeyondRetentionPolicyException tooOld) {
            return dropped(String.valueOf(tooOld.getMessage()));
        } catch (RuntimeException failure) {
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
        QueryResult answer;
        try {
            answer = client.query(query);
        } catch (RuntimeException failure) {
            throw classified("answer " + influxQl, failure);
        }
        if (answer.hasError()) {
            throw classified("answer " + influxQl, new InfluxDBException(answer.getError()));
        }
        if (answer.getResults().isEmpty()) {
            return List.of();
        }
        QueryResult.Result result = answer.getResults().get(0);
        if (result.hasError()) {
            throw classified("answer " + influxQl, new InfluxDBException(result.getError()));
        }
        return result.getSeries() == null ? List.of() : result.getSeries();
    }

    private StoreException classified(String what, RuntimeException failure) {
        String said = String.valueOf(failure.getMessage());
        String message = name() + " did not " + what + ": " + said;
        if (failure instanceof InfluxDBIOException) {
            Throwable cause = failure.getCause();
            return new ServerAwayException(
                    name() + " does not answer: " + (cause instanceof SocketTimeoutException ? "time-out, " : "")
                            + said,
                    failure);
        }
        if (failure instanceof InfluxDBException.FieldTypeConflictException
                || failure instanceof InfluxDBException.UnableToParseException
                || said.contains("partial write")
                || said.contains("unable to parse")
                || said.contains("error parsing query")) {
            return new ServerRefusedException(message, false, failure);
        }
        if (said.toLowerCase(Locale.ROOT).contains("entity too large")) {
            return new ServerRefusedException(message, true, failure);
        }
        if (failure instanceof InfluxDBException.AuthorizationFailedException) {
            return new ServerAwayException(
                    name() + " does not let "
                            + (settings.user() == null
                                    ? "anybody in without a user"
                                    : "user " + settings.user() + " in")
                            + ": " + said,
                    failure);
        }
        // Overload, a shard that is being closed, a missing database: the same may succeed later.
        return new ServerAwayException(message, failure);
    }

    /** Whether the server gave no answer at all. */
    static boolean isUnreachable(StoreException failure) {
        return failure.getCause() instanceof InfluxDBIOException;
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
