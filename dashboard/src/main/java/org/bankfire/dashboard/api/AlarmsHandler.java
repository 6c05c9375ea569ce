package org.bankfire.dashboard.api;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;

/** Alarms that stand, the journal of their transitions, and their acknowledgement. */
final class AlarmsHandler {
    private static final int USUAL_JOURNAL = 50;
    private static final int MOST_JOURNAL = 1_000;
    private static final int LONGEST_BY = 64;

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
        String code = ctx.pathParam("alarm");
        AlarmId alarm = AlarmId.ofCode(code)
                .orElseThrow(() -> ApiException.unknown(
                        "alarm",
                        code,
                        Arrays.stream(AlarmId.values()).map(AlarmId::code).collect(Collectors.joining(", "))));
        ObjectNode body = Requests.body(ctx, "by");
        String by = Requests.text(body, "by", "page", 1, LONGEST_BY);
        if (!controls.acknowledge(forge, alarm, by)) {
            throw new ApiException(
                    409,
                    "the alarm " + alarm.code() + " of " + forge + " does not call for acknowledgement now",
                    "alarm",
                    alarm.code(),
                    "an alarm that is unacknowledged");
        }
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeStringField("alarm", alarm.code());
            json.writeBooleanField("acknowledged", true);
            json.writeStringField("by", by);
        });
    }
}
