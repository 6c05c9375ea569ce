package org.bankfire.daemon.store.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/** Queries of notes, settings, alarm transitions, burns and fits. */
final class LogQueries {
    private static final String SETTINGS = "SELECT time_us, setting.name, value, unit FROM setting"
            + " JOIN forge ON forge.id = forge_id WHERE forge.name = ? AND ";
    private static final String TRANSITIONS = "SELECT time_us, alarm, state, priority, value, why FROM alarm_transition"
            + " JOIN forge ON forge.id = forge_id WHERE forge.name = ?";
    private static final String BURNS = "SELECT burn.id, forge.name, start_us, end_us, gas_used_kg, peak_c FROM burn"
            + " JOIN forge ON forge.id = forge_id WHERE ";

    private final Path path;
    private final ReadConnections connections;

    LogQueries(Path path, ReadConnections connections) {
        this.path = path;
        this.connections = connections;
    }

    static StoreException unknownCode(Path path, String kind, String code) {
        return new StoreException("store " + path + ": holds the " + kind + " \"" + code
                + "\", which this program does not know; use the newer program that stored it");
    }

    List<Note> notes(String forge, TimeRange range) throws StoreException {
        String sql = "SELECT time_us, note.name, text FROM note JOIN forge ON forge.id = forge_id"
                + " WHERE forge.name = ? AND time_us >= ? AND time_us < ? ORDER BY time_us, note.name";
        return list(
                "read notes of " + forge,
                sql,
                rows -> new Note(forge, new WallTime(rows.getLong(1)), rows.getString(2), rows.getString(3)),
                forge,
                range.from().epochMicros(),
                range.to().epochMicros());
    }

    List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        String sql = "SELECT time_us, text FROM note JOIN forge ON forge.id = forge_id"
                + " WHERE forge.name = ? AND note.name = ? AND time_us >= ? AND time_us < ? ORDER BY time_us";
        return list(
                "read notes \"" + name + "\" of " + forge,
                sql,
                rows -> new Note(forge, new WallTime(rows.getLong(1)), name, rows.getString(2)),
                forge,
                name,
                range.from().epochMicros(),
                range.to().epochMicros());
    }

    List<Setting> settings(String forge, TimeRange range) throws StoreException {
        return list(
                "read settings of " + forge,
                SETTINGS + "time_us >= ? AND time_us < ? ORDER BY time_us, setting.name",
                rows -> setting(forge, rows),
                forge,
                range.from().epochMicros(),
                range.to().epochMicros());
    }

    Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return list(
                        "read the latest " + name + " of " + forge,
                        SETTINGS + "setting.name = ? ORDER BY time_us DESC LIMIT 1",
                        rows -> setting(forge, rows),
                        forge,
                        name)
                .stream()
                .findFirst();
    }

    List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        return list(
                "read alarms of " + forge,
                TRANSITIONS + " AND time_us >= ? AND time_us < ? ORDER BY time_us, alarm_transition.id",
                rows -> transition(forge, rows),
                forge,
                range.from().epochMicros(),
                range.to().epochMicros());
    }

    List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return list(
                "read the latest alarms of " + forge,
                TRANSITIONS + " ORDER BY time_us DESC, alarm_transition.id DESC LIMIT ?",
                rows -> transition(forge, rows),
                forge,
                atLeastZero(limit));
    }

    List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return list(
                "read the latest " + alarm.code() + " of " + forge,
                TRANSITIONS + " AND alarm = ? ORDER BY time_us DESC, alarm_transition.id DESC LIMIT ?",
                rows -> transition(forge, rows),
                forge,
                alarm.code(),
                atLeastZero(limit));
    }

    Optional<Burn> burn(String id) throws StoreException {
        return list("read burn " + id, BURNS + "burn.id = ?", LogQueries::burn, id).stream()
                .findFirst();
    }

    List<Burn> burns(String forge, int limit) throws StoreException {
        return list(
                "read burns of " + forge,
                BURNS + "forge.name = ? ORDER BY start_us DESC, burn.id DESC LIMIT ?",
                LogQueries::burn,
                forge,
                atLeastZero(limit));
    }

    Optional<StoredFit> fit(String burnId) throws StoreException {
        return list(
                        "read the fit of burn " + burnId,
                        "SELECT burn_id, start_us, loss_at_c, loss, loss_low95, loss_high95, forge.name, finished_us,"
                                + " json FROM fit JOIN forge ON forge.id = forge_id WHERE burn_id = ?",
                        rows -> new StoredFit(
                                rows.getString(1),
                                rows.getString(7),
                                new WallTime(rows.getLong(2)),
                                new WallTime(rows.getLong(8)),
                                lossOrNull(rows),
                                rows.getString(9)),
                        burnId)
                .stream()
                .findFirst();
    }

    List<BurnLoss> losses(String forge, int limit) throws StoreException {
        List<BurnLoss> newestFirst = list(
                "read the losses of " + forge,
                "SELECT burn_id, start_us, loss_at_c, loss, loss_low95, loss_high95 FROM fit"
                        + " JOIN forge ON forge.id = forge_id WHERE forge.name = ? AND loss IS NOT NULL"
                        + " ORDER BY start_us DESC, burn_id DESC LIMIT ?",
                LogQueries::loss,
                forge,
                atLeastZero(limit));
        Collections.reverse(newestFirst);
        return newestFirst;
    }

    /** SQLite takes a negative limit for none. */
    private static int atLeastZero(int limit) {
        if (limit < 0) {
            throw new IllegalArgumentException("limit " + limit + "; allowed is 0 or more");
        }
        return limit;
    }

    private interface Row<T> {
        T of(ResultSet rows) throws SQLException, StoreException;
    }

    private <T> List<T> list(String what, String sql, Row<T> row, Object... arguments) throws StoreException {
        return connections.query(what, connection -> rows(connection, sql, row, arguments));
    }

    private static <T> List<T> rows(Connection connection, String sql, Row<T> row, Object... arguments)
            throws SQLException, StoreException {
        List<T> found = new ArrayList<>();
        try (PreparedStatement select = connection.prepareStatement(sql)) {
            for (int i = 0; i < arguments.length; i++) {
                select.setObject(i + 1, arguments[i]);
            }
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    found.add(row.of(rows));
                }
            }
        }
        return found;
    }

    private static Setting setting(String forge, ResultSet rows) throws SQLException {
        return new Setting(
                forge, new WallTime(rows.getLong(1)), rows.getString(2), rows.getString(3), rows.getString(4));
    }

    private AlarmTransition transition(String forge, ResultSet rows) throws SQLException, StoreException {
        String alarm = rows.getString(2);
        String state = rows.getString(3);
        double value = rows.getDouble(5);
        boolean hasValue = !rows.wasNull();
        return new AlarmTransition(
                forge,
                new WallTime(rows.getLong(1)),
                AlarmId.ofCode(alarm).orElseThrow(() -> unknownCode(path, "alarm", alarm)),
                AlarmState.ofCode(state).orElseThrow(() -> unknownCode(path, "alarm state", state)),
                priority(rows.getString(4)),
                hasValue ? value : Double.NaN,
                rows.getString(6));
    }

    private Priority priority(String code) throws StoreException {
        for (Priority priority : Priority.values()) {
            if (priority.code().equals(code)) {
                return priority;
            }
        }
        throw unknownCode(path, "priority", code);
    }

    private static Burn burn(ResultSet rows) throws SQLException {
        long endUs = rows.getLong(4);
        @Nullable WallTime end = rows.wasNull() ? null : new WallTime(endUs);
        double gasUsedKg = orNaN(rows, 5);
        double peakC = orNaN(rows, 6);
        return new Burn(rows.getString(1), rows.getString(2), new WallTime(rows.getLong(3)), end, gasUsedKg, peakC);
    }

    private static @Nullable BurnLoss lossOrNull(ResultSet rows) throws SQLException {
        return Double.isNaN(orNaN(rows, 4)) ? null : loss(rows);
    }

    private static BurnLoss loss(ResultSet rows) throws SQLException {
        return new BurnLoss(
                rows.getString(1),
                new WallTime(rows.getLong(2)),
                rows.getDouble(3),
                new Band(rows.getDouble(4), rows.getDouble(5), rows.getDouble(6)));
    }

    private static double orNaN(ResultSet rows, int column) throws SQLException {
        double value = rows.getDouble(column);
        return rows.wasNull() ? Double.NaN : value;
    }
}
