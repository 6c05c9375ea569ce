package org.bankfire.daemon.store.influx;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
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

/** Queries of notes, settings, alarm transitions, burns and fits. */
final class ServerLog {
    /** More transitions of one forge at one moment than there are alarms are none. */
    private static final int MOST_AT_ONCE = 2 * AlarmId.values().length;

    private static final String TRANSITIONS = "SELECT alarm::tag, state::tag, priority, value, why, step FROM "
            + LineEncoder.ALARM + " WHERE forge = $forge";
    private static final String BURNS =
            "SELECT id, forge::tag, ended, \"end\", gas_kg, gas_known, peak_c, peak_known FROM " + LineEncoder.BURN;
    private static final String LOSS = "burn, loss_known, loss_at_c, loss, loss_low95, loss_high95";

    private final ServerConnection server;

    ServerLog(ServerConnection server) {
        this.server = server;
    }

    static StoreException unknownCode(String kind, String code) {
        return new StoreException("the InfluxDB server holds the " + kind + " \"" + code
                + "\", which this program does not know; use the newer program that stored it");
    }

    List<Note> notes(String forge, TimeRange range) throws StoreException {
        return notes(forge, "", Map.of("forge", forge), range);
    }

    List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        return notes(forge, " AND \"name\" = $name", Map.of("forge", forge, "name", LineEncoder.tagText(name)), range);
    }

    private List<Note> notes(String forge, String andWhere, Map<String, Object> bound, TimeRange range)
            throws StoreException {
        Rows rows = Rows.of(server.query(
                "SELECT \"name\"::tag, text FROM " + LineEncoder.NOTE + " WHERE forge = $forge" + andWhere + " AND "
                        + ServerReadings.during(range) + " ORDER BY time",
                bound));
        List<Note> notes = new ArrayList<>();
        while (rows.next()) {
            notes.add(new Note(forge, rows.time(), rows.tag("name"), rows.text("text")));
        }
        notes.sort(Comparator.comparing(Note::time).thenComparing(Note::name));
        return notes;
    }

    List<Setting> settings(String forge, TimeRange range) throws StoreException {
        List<Setting> settings = settings(
                "SELECT \"name\"::tag, value, unit FROM " + LineEncoder.SETTING + " WHERE forge = $forge AND "
                        + ServerReadings.during(range) + " ORDER BY time",
                forge,
                Map.of("forge", forge));
        settings.sort(Comparator.comparing(Setting::time).thenComparing(Setting::name));
        return settings;
    }

    Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return settings(
                        "SELECT \"name\"::tag, value, unit FROM " + LineEncoder.SETTING
                                + " WHERE forge = $forge AND \"name\" = $name ORDER BY time DESC LIMIT 1",
                        forge,
                        Map.of("forge", forge, "name", LineEncoder.tagText(name)))
                .stream()
                .findFirst();
    }

    private List<Setting> settings(String query, String forge, Map<String, Object> bound) throws StoreException {
        Rows rows = Rows.of(server.query(query, bound));
        List<Setting> settings = new ArrayList<>();
        while (rows.next()) {
            settings.add(new Setting(forge, rows.time(), rows.tag("name"), rows.text("value"), rows.text("unit")));
        }
        return settings;
    }

    private record Step(AlarmTransition transition, long step) {
        static final Comparator<Step> ORDER = Comparator.<Step, WallTime>comparing(each -> each.transition.time())
                .thenComparing(Step::step);
    }

    List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        List<Step> steps = steps(
                TRANSITIONS + " AND " + ServerReadings.during(range) + " ORDER BY time", forge, Map.of("forge", forge));
        steps.sort(Step.ORDER);
        return steps.stream().map(Step::transition).toList();
    }

    List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return latest("", forge, Map.of("forge", forge), limit);
    }

    List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return latest(" AND alarm = $alarm", forge, Map.of("forge", forge, "alarm", alarm.code()), limit);
    }

    private List<AlarmTransition> latest(String andWhere, String forge, Map<String, Object> bound, int limit)
            throws StoreException {
        requireLimit(limit);
        // The server orders by time alone: with some more, those of one moment can be put in order before the cut.
        List<Step> steps = steps(
                TRANSITIONS + andWhere + " ORDER BY time DESC LIMIT " + ((long) limit + MOST_AT_ONCE), forge, bound);
        steps.sort(Step.ORDER.reversed());
        return steps.stream().limit(limit).map(Step::transition).toList();
    }

    private List<Step> steps(String query, String forge, Map<String, Object> bound) throws StoreException {
        Rows rows = Rows.of(server.query(query, bound));
        List<Step> steps = new ArrayList<>();
        while (rows.next()) {
            String alarm = rows.text("alarm");
            String state = rows.text("state");
            steps.add(new Step(
                    new AlarmTransition(
                            forge,
                            rows.time(),
                            AlarmId.ofCode(alarm).orElseThrow(() -> unknownCode("alarm", alarm)),
                            AlarmState.ofCode(state).orElseThrow(() -> unknownCode("alarm state", state)),
                            priority(rows.text("priority")),
                            rows.number("value"),
                            rows.text("why")),
                    rows.whole("step")));
        }
        return steps;
    }

    private static Priority priority(String code) throws StoreException {
        for (Priority priority : Priority.values()) {
            if (priority.code().equals(code)) {
                return priority;
            }
        }
        throw unknownCode("priority", code);
    }

    Optional<Burn> burn(String id) throws StoreException {
        return burns(BURNS + " WHERE id = $id", Map.of("id", LineEncoder.oneLine(id))).stream()
                .findFirst();
    }

    List<Burn> burns(String forge, int limit) throws StoreException {
        requireLimit(limit);
        return limit == 0
                ? List.of() // a limit of 0 is none to InfluxDB
                : burns(BURNS + " WHERE forge = $forge ORDER BY time DESC LIMIT " + limit, Map.of("forge", forge));
    }

    private List<Burn> burns(String query, Map<String, Object> bound) throws StoreException {
        Rows rows = Rows.of(server.query(query, bound));
        List<Burn> burns = new ArrayList<>();
        while (rows.next()) {
            burns.add(new Burn(
                    rows.text("id"),
                    rows.text("forge"),
                    rows.time(),
                    rows.flag("ended") ? new WallTime(rows.whole("end")) : null,
                    rows.flag("gas_known") ? rows.number("gas_kg") : Double.NaN,
                    rows.flag("peak_known") ? rows.number("peak_c") : Double.NaN));
        }
        return burns;
    }

    Optional<StoredFit> fit(String burnId) throws StoreException {
        Rows rows = Rows.of(server.query(
                "SELECT * FROM " + LineEncoder.FIT + " WHERE burn = $burn",
                Map.of("burn", LineEncoder.oneLine(burnId))));
        if (!rows.next()) {
            return Optional.empty();
        }
        StringBuilder json = new StringBuilder();
        for (long i = 0; i < rows.whole("pieces"); i++) {
            json.append(rows.text("json_" + i));
        }
        return Optional.of(new StoredFit(
                burnId,
                rows.text("forge"),
                rows.time(),
                new WallTime(rows.whole("finished")),
                rows.flag("loss_known") ? loss(rows) : null,
                json.toString()));
    }

    List<BurnLoss> losses(String forge, int limit) throws StoreException {
        requireLimit(limit);
        if (limit == 0) {
            return List.of();
        }
        Rows rows = Rows.of(server.query(
                "SELECT " + LOSS + " FROM " + LineEncoder.FIT
                        + " WHERE forge = $forge AND loss_known = true ORDER BY time DESC LIMIT " + limit,
                Map.of("forge", forge)));
        List<BurnLoss> losses = new ArrayList<>();
        while (rows.next()) {
            losses.add(loss(rows));
        }
        Collections.reverse(losses);
        return losses;
    }

    private static BurnLoss loss(Rows rows) {
        return new BurnLoss(
                rows.text("burn"),
                rows.time(),
                rows.number("loss_at_c"),
                new Band(rows.number("loss"), rows.number("loss_low95"), rows.number("loss_high95")));
    }

    private static void requireLimit(int limit) {
        if (limit < 0) {
            throw new IllegalArgumentException("limit " + limit + "; allowed is 0 or more");
        }
    }
}
