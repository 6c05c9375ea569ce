package org.bankfire.dashboard.api;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;

/** Alarms that stand, the journal of their transitions, and what a user does about them. */
final class AlarmsHandler {
    private static final int USUAL_JOURNAL = 50;
    private static final int MOST_JOURNAL = 1_000;
    private static final int LONGEST_BY = 64;
    private static final double SECONDS_PER_MINUTE = 60;
    private static final String SHELF_ALLOWED = String.format(
            Locale.ROOT,
            "a number of minutes above 0, at most %.0f for an alarm that is critical and at most %.0f for any other",
            Alarm.LONGEST_CRITICAL_SHELF_S / SECONDS_PER_MINUTE,
            Alarm.LONGEST_SHELF_S / SECONDS_PER_MINUTE);

    private final ForgeFeed feed;
    private final LogBook logBook;
    private final ForgeControls controls;

    AlarmsHandler(ForgeFeed feed, LogBook logBook, ForgeControls controls) {
        this.feed = feed;
        this.logBook = logBook;
        this.controls = controls;
    }

    void list(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        int limit = Requests.integer(ctx, "limit", USUAL_JOURNAL, 1, MOST_JOURNAL);
        List<AlarmStatus> standing =
                feed.snapshot(forge).map(snapshot -> snapshot.alarms()).orElse(List.of());
        List<AlarmTransition> journal = logBook.alarmJournal(forge, limit);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeFieldName("standing");
            SnapshotJson.alarms(json, standing);
            json.writeArrayFieldStart("journal");
            for (AlarmTransition step : journal) {
                json.writeStartObject();
                Json.time(json, step.time());
                json.writeStringField("alarm", step.alarm().code());
                json.writeStringField("title", step.alarm().title());
                json.writeStringField("state", step.state().code());
                json.writeStringField("priority", step.priority().code());
                Json.number(json, "value", step.value(), 3);
                json.writeStringField("why", step.why());
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    void acknowledge(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        AlarmId alarm = alarm(ctx);
        String by = by(Requests.body(ctx, "by"));
        act(forge, AlarmAction.acknowledge(alarm, by), "does not call for acknowledgement now", "an alarm that calls");
        answer(ctx, forge, alarm, by, json -> json.writeBooleanField("acknowledged", true));
    }

    void shelve(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        AlarmId alarm = alarm(ctx);
        ObjectNode body = Requests.body(ctx, "minutes", "by");
        double minutes = Requests.positive(body, "minutes", SHELF_ALLOWED);
        String by = by(body);
        AlarmAction shelve = AlarmAction.shelve(alarm, minutes * SECONDS_PER_MINUTE, by);
        try {
            act(forge, shelve, "is out of service", "an alarm that is in service");
        } catch (IllegalArgumentException tooLong) {
            throw ApiException.bad("minutes", body.path("minutes").asText(), SHELF_ALLOWED);
        }
        answer(ctx, forge, alarm, by, json -> Json.number(json, "minutes", minutes, 3));
    }

    void unshelve(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        AlarmId alarm = alarm(ctx);
        String by = by(Requests.body(ctx, "by"));
        act(forge, AlarmAction.unshelve(alarm, by), "is not on the shelf", "an alarm that is shelved");
        answer(ctx, forge, alarm, by, json -> json.writeBooleanField("shelved", false));
    }

    void service(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        AlarmId alarm = alarm(ctx);
        ObjectNode body = Requests.body(ctx, "out", "by");
        boolean out = Requests.yesOrNo(body, "out");
        String by = by(body);
        act(
                forge,
                AlarmAction.outOfService(alarm, out, by),
                out ? "is out of service already" : "is in service already",
                out ? "an alarm that is in service" : "an alarm that is out of service");
        answer(ctx, forge, alarm, by, json -> json.writeBooleanField("out", out));
    }

    private void act(String forge, AlarmAction action, String otherwise, String allowed) {
        if (!controls.act(forge, action)) {
            String code = action.alarm().code();
            throw new ApiException(409, "the alarm " + code + " of " + forge + " " + otherwise, "alarm", code, allowed);
        }
    }

    private static AlarmId alarm(Context ctx) {
        String code = ctx.pathParam("alarm");
        return AlarmId.ofCode(code)
                .orElseThrow(() -> ApiException.unknown(
                        "alarm",
                        code,
                        Arrays.stream(AlarmId.values()).map(AlarmId::code).collect(Collectors.joining(", "))));
    }

    private static String by(ObjectNode body) {
        return Requests.text(body, "by", "page", 1, LONGEST_BY);
    }

    private static void answer(Context ctx, String forge, AlarmId alarm, String by, Json.Members what) {
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeStringField("alarm", alarm.code());
            what.write(json);
            json.writeStringField("by", by);
        });
    }
}
