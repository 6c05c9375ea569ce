package org.bankfire.daemon.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.StoredFit;

/** Writes what comes seldom: notes, settings, alarm transitions, burns and fits, within the caller's transaction. */
final class LogWriter {
    private final PreparedStatement insertNote;
    private final PreparedStatement insertSetting;
    private final PreparedStatement insertTransition;
    private final PreparedStatement upsertBurn;
    private final PreparedStatement upsertFit;

    LogWriter(Connection connection) throws SQLException {
        insertNote = connection.prepareStatement(
                "INSERT INTO note (forge_id, time_us, name, text) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING");
        insertSetting = connection.prepareStatement(
                "INSERT INTO setting (forge_id, time_us, name, value, unit) VALUES (?, ?, ?, ?, ?)"
                        + " ON CONFLICT DO NOTHING");
        insertTransition = connection.prepareStatement(
                "INSERT INTO alarm_transition (forge_id, time_us, alarm, state, priority, value, why)"
                        + " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING");
        upsertBurn = connection.prepareStatement(
                "INSERT INTO burn (id, forge_id, start_us, end_us, gas_used_kg, peak_c) VALUES (?, ?, ?, ?, ?, ?)"
                        + " ON CONFLICT (id) DO UPDATE SET forge_id = excluded.forge_id, start_us = excluded.start_us,"
                        + " end_us = excluded.end_us, gas_used_kg = excluded.gas_used_kg, peak_c = excluded.peak_c");
        upsertFit = connection.prepareStatement("INSERT OR REPLACE INTO fit (burn_id, forge_id, start_us, finished_us,"
                + " loss_at_c, loss, loss_low95, loss_high95, json) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
    }

    /** Whether its key was not there before. */
    boolean insert(int forgeId, Note note) throws SQLException {
        insertNote.setInt(1, forgeId);
        insertNote.setLong(2, note.time().epochMicros());
        insertNote.setString(3, note.name());
        insertNote.setString(4, note.text());
        return insertNote.executeUpdate() > 0;
    }

    /** Whether its key was not there before. */
    boolean insert(int forgeId, Setting setting) throws SQLException {
        insertSetting.setInt(1, forgeId);
        insertSetting.setLong(2, setting.time().epochMicros());
        insertSetting.setString(3, setting.name());
        insertSetting.setString(4, setting.value());
        insertSetting.setString(5, setting.unit());
        return insertSetting.executeUpdate() > 0;
    }

    /** Whether its key was not there before. */
    boolean insert(int forgeId, AlarmTransition transition) throws SQLException {
        insertTransition.setInt(1, forgeId);
        insertTransition.setLong(2, transition.time().epochMicros());
        insertTransition.setString(3, transition.alarm().code());
        insertTransition.setString(4, transition.state().code());
        insertTransition.setString(5, transition.priority().code());
        BatchWriter.setDouble(insertTransition, 6, transition.value());
        insertTransition.setString(7, transition.why());
        return insertTransition.executeUpdate() > 0;
    }

    void upsert(int forgeId, Burn burn) throws SQLException {
        WallTime end = burn.end();
        upsertBurn.setString(1, burn.id());
        upsertBurn.setInt(2, forgeId);
        upsertBurn.setLong(3, burn.start().epochMicros());
        if (end == null) {
            upsertBurn.setNull(4, Types.INTEGER);
        } else {
            upsertBurn.setLong(4, end.epochMicros());
        }
        BatchWriter.setDouble(upsertBurn, 5, burn.gasUsedKg());
        BatchWriter.setDouble(upsertBurn, 6, burn.peakC());
        upsertBurn.executeUpdate();
    }

    void upsert(int forgeId, StoredFit fit) throws SQLException {
        BurnLoss loss = fit.loss();
        upsertFit.setString(1, fit.burnId());
        upsertFit.setInt(2, forgeId);
        upsertFit.setLong(3, fit.start().epochMicros());
        upsertFit.setLong(4, fit.finishedAt().epochMicros());
        BatchWriter.setDouble(upsertFit, 5, loss == null ? Double.NaN : loss.atC());
        BatchWriter.setDouble(
                upsertFit, 6, loss == null ? Double.NaN : loss.wattsPerK().value());
        BatchWriter.setDouble(
                upsertFit, 7, loss == null ? Double.NaN : loss.wattsPerK().low95());
        BatchWriter.setDouble(
                upsertFit, 8, loss == null ? Double.NaN : loss.wattsPerK().high95());
        upsertFit.setString(9, fit.json());
        upsertFit.executeUpdate();
    }
}
