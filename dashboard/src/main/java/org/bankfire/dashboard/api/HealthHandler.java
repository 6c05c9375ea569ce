package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import org.bankfire.dashboard.source.DaemonHealth;
import org.bankfire.dashboard.source.DaemonHealth.SourceHealth;
import org.bankfire.dashboard.source.OutputBook;
import org.bankfire.dashboard.source.OutputBook.OutputState;

/** Whether the daemon is alive, and whether it can do its work. */
final class HealthHandler {
    private final DaemonHealth.Probe probe;
    private final OutputBook outputs;

    HealthHandler(DaemonHealth.Probe probe, OutputBook outputs) {
        this.probe = probe;
        this.outputs = outputs;
    }

    /**
     * 200 when every part works, else 503, with the parts in either case. Outputs are told and do not decide: a mail
     * server that is away is no reason for a supervisor to restart what logs and alarms.
     */
    void health(Context ctx) {
        DaemonHealth health = probe.health();
        Requests.answer(ctx, health.ready() ? 200 : 503, json -> {
            json.writeBooleanField("live", true);
            json.writeBooleanField("ready", health.ready());
            json.writeObjectFieldStart("ledger");
            json.writeBooleanField("beating", health.ledger().beating());
            json.writeNumberField("judgedAgoS", health.ledger().judgedAgoS());
            json.writeNumberField("restarts", health.ledger().restarts());
            json.writeStringField("lastRestart", health.ledger().lastRestart());
            json.writeEndObject();
            json.writeStringField("store", health.storeState());
            json.writeNumberField("readingsStored", health.readingsStored());
            json.writeNumberField("storeBacklog", health.storeBacklog());
            json.writeArrayFieldStart("sources");
            for (SourceHealth source : health.sources()) {
                json.writeStartObject();
                json.writeStringField("name", source.name());
                json.writeBooleanField("connected", source.connected());
                json.writeStringField("detail", source.detail());
                json.writeNumberField("frames", source.frames());
                json.writeNumberField("badFrames", source.badFrames());
                json.writeNumberField("lostLines", source.lostLines());
                json.writeNumberField("reconnects", source.reconnects());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("outputs");
            for (OutputState output : outputs.outputs()) {
                json.writeStartObject();
                json.writeStringField("name", output.name());
                json.writeStringField("kind", output.kind());
                json.writeStringField("state", output.condition().code());
                json.writeStringField("detail", output.detail());
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    /** 200 as long as the process answers at all. */
    void live(Context ctx) {
        Requests.answer(ctx, 200, json -> json.writeBooleanField("live", true));
    }
}
