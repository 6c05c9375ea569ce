package org.bankfire.daemon.store.influx;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The log book on an InfluxDB server. It is written to in blocks of lines that {@link LineEncoder} made, any number of
 * times each, and asked like any other store. Any thread may use it; each request waits half a minute for its answer at
 * most.
 */
public final class InfluxServer implements ServerTarget {
    private static final Logger log = LoggerFactory.getLogger(InfluxServer.class);

    private final ServerConnection connection;
    private final ServerReadings readings;
    private final ServerLog entries;
    private final AtomicLong beyondRetention = new AtomicLong();
    private volatile String readingsPolicy = "";
    private volatile boolean ready;
    /** What the server would not do at the last set-up; it is told once, not each time that the server comes back. */
    private volatile List<String> toldRefusals = List.of();

    /**
     * Does not connect yet.
     *
     * @throws StoreException when the password file cannot be read; names it
     */
    public InfluxServer(InfluxSettings settings) throws StoreException {
        connection = new ServerConnection(settings);
        readings = new ServerReadings(connection, () -> readingsPolicy);
        entries = new ServerLog(connection);
    }

    /** Where and what, for messages; without the password. */
    public String name() {
        return connection.name();
    }

    /**
     * Makes the database and the retention policy of readings, or changes its duration. Where the server or its
     * administrator does not let us, everything goes under the database's default policy, and {@link #prune} deletes.
     *
     * @param keepReadings how long readings and 10 s roll-ups are kept
     * @throws ServerAwayException when the server cannot be reached, or has no answer just now
     */
    @Override
    public void setUp(Duration keepReadings) throws StoreException {
        String database = quoted(connection.database());
        List<String> refusals = new ArrayList<>();
        attempt("CREATE DATABASE " + database, refusals);
        Set<String> policies = policies(database);
        String verb = policies.contains(LineEncoder.READINGS_POLICY) ? "ALTER" : "CREATE";
        attempt(
                verb + " RETENTION POLICY " + quoted(LineEncoder.READINGS_POLICY) + " ON " + database + " DURATION "
                        + Math.max(1, keepReadings.toHours())
                        // What the server thinks fit for the duration: else a much shorter one than before is refused.
                        + "h REPLICATION 1 SHARD DURATION 0s",
                refusals);
        boolean made = policies(database).contains(LineEncoder.READINGS_POLICY);
        readingsPolicy = made ? LineEncoder.READINGS_POLICY : "";
        if (!refusals.isEmpty() && !refusals.equals(toldRefusals)) {
            toldRefusals = List.copyOf(refusals);
            log.info(
                    "{}: could not be set up as wished, {}; {}",
                    name(),
                    String.join("; ", refusals),
                    made ? "it is used as it is" : "readings lie under its default retention policy");
        }
        ready = true;
    }

    /** What the server will not do is told in {@code refusals}; a server that is away is thrown. */
    private void attempt(String command, List<String> refusals) throws StoreException {
        try {
            connection.command(command);
        } catch (StoreException refused) {
            if (ServerConnection.mayPass(refused)) {
                throw refused;
            }
            refusals.add(String.valueOf(refused.getMessage()));
        }
    }

    private Set<String> policies(String database) throws StoreException {
        Set<String> names = new TreeSet<>();
        try {
            Rows rows = Rows.of(connection.query("SHOW RETENTION POLICIES ON " + database, Map.of()));
            while (rows.next()) {
                names.add(rows.text("name"));
            }
        } catch (StoreException refused) {
            if (ServerConnection.mayPass(refused)) {
                throw refused;
            }
        }
        return names;
    }

    private static String quoted(String identifier) {
        return '"' + identifier.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
    }

    /** Whether {@link #setUp} is to be called before anything is written. */
    @Override
    public boolean needsSetUp() {
        return !ready;
    }

    /**
     * Writes a block of {@link LineEncoder#encode}. When it fails, part of it may be on the server; writing it again does
     * no harm.
     *
     * @throws ServerAwayException when the same may succeed later
     * @throws ServerRefusedException when part of it, or so much at once, is not taken
     */
    public void write(byte[] block) throws StoreException {
        write(new String(block, StandardCharsets.UTF_8).lines().toList());
    }

    /** As {@link #write(byte[])} of the lines of a block. */
    @Override
    public void write(List<String> lines) throws StoreException {
        List<String> ofReadings = new ArrayList<>(lines.size());
        List<String> ofEntries = new ArrayList<>();
        for (String line : lines) {
            (LineEncoder.isOfReadings(line) ? ofReadings : ofEntries).add(line);
        }
        try {
            write("", ofEntries);
        } catch (ServerRefusedException refused) {
            // What is refused of the ones must not keep the others from the server.
            write(readingsPolicy, ofReadings);
            throw refused;
        }
        write(readingsPolicy, ofReadings);
    }

    private void write(String policy, List<String> lines) throws StoreException {
        if (lines.isEmpty()) {
            return;
        }
        try {
            long tooOld = connection.write(policy, lines);
            if (tooOld > 0 && beyondRetention.getAndAdd(tooOld) == 0) {
                log.info("{}: {} points are older than it keeps readings and were left out", name(), tooOld);
            }
        } catch (ServerAwayException away) {
            // The database or the policy may have been dropped, or it may be another server since.
            ready &= ServerConnection.isUnreachable(away);
            throw away;
        }
    }

    /** Points that the server left out because they were older than it keeps readings. */
    public long beyondRetention() {
        return beyondRetention.get();
    }

    /**
     * Deletes readings and 10 s roll-ups of a part of the range; 5 min roll-ups and all else stay.
     *
     * @return how many were deleted, 0 when nothing is left to delete
     */
    @Override
    public long prune(TimeRange range) throws StoreException {
        return readings.prune(range);
    }

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        readings.readings(forge, range, sink);
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        readings.readings(channel, range, sink);
    }

    @Override
    public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        return readings.rollups(channel, range, width);
    }

    @Override
    public Optional<Reading> latest(Channel channel) throws StoreException {
        return readings.latest(channel);
    }

    @Override
    public List<String> forges() throws StoreException {
        return readings.forges();
    }

    @Override
    public List<Channel> channels(String forge) throws StoreException {
        return readings.channels(forge);
    }

    @Override
    public List<Note> notes(String forge, TimeRange range) throws StoreException {
        return entries.notes(forge, range);
    }

    @Override
    public List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        return entries.notes(forge, name, range);
    }

    @Override
    public List<Setting> settings(String forge, TimeRange range) throws StoreException {
        return entries.settings(forge, range);
    }

    @Override
    public Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return entries.latestSetting(forge, name);
    }

    @Override
    public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        return entries.alarmTransitions(forge, range);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return entries.latestAlarmTransitions(forge, limit);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return entries.latestAlarmTransitions(forge, alarm, limit);
    }

    @Override
    public Optional<Burn> burn(String id) throws StoreException {
        return entries.burn(id);
    }

    @Override
    public List<Burn> burns(String forge, int limit) throws StoreException {
        return entries.burns(forge, limit);
    }

    @Override
    public Optional<StoredFit> fit(String burnId) throws StoreException {
        return entries.fit(burnId);
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) throws StoreException {
        return entries.losses(forge, limit);
    }

    @Override
    public void close() {
        connection.close();
    }
}
