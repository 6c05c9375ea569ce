package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import io.javalin.http.Context;
import java.io.IOException;
import org.bankfire.dashboard.source.DaemonHealth;
import org.bankfire.dashboard.source.DaemonHealth.ServerHealth;
import org.bankfire.dashboard.source.DaemonHealth.SourceHealth;
import org.bankfire.dashboard.source.DaemonHealth.UnwatchedForge;
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
            json.writeArrayFieldStart("unwatched");
            for (UnwatchedForge forge : health.ledger().unwatched()) {
                json.writeStartObject();
                json.writeStringField("forge", forge.forge());
                json.writeStringField("why", forge.why());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
            json.writeStringField("store", health.storeState());
            json.writeNumberField("readingsStored", health.readingsStored());
            json.writeNumberField("storeBacklog", health.storeBacklog());
            if (health.server().isPresent()) {
                writeServer(json, health.server().get());
            }
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

    /** Where what is stored has got to, for the page: 200 whatever is wrong. */
    void store(Context ctx) {
        DaemonHealth health = probe.health();
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("state", health.storeState());
            json.writeNumberField("backlog", health.storeBacklog());
            if (health.server().isPresent()) {
                writeServer(json, health.server().get());
            }
        });
    }

    private static void writeServer(JsonGenerator json, ServerHealth server) throws IOException {
        json.writeObjectFieldStart("server");
        json.writeBooleanField("reachable", server.reachable());
        json.writeNumberField("waiting", server.waiting());
        json.writeNumberField("waitingBytes", server.waitingBytes());
        json.writeNumberField("behindS", server.behindS());
        if (server.awaySince().isPresent()) {
            json.writeStringField("awaySince", server.awaySince().get().toString());
        }
        json.writeStringField("detail", server.detail());
        json.writeNumberField("dropped", server.dropped());
        json.writeNumberField("refused", server.refused());
        json.writeStringField("lastRefusal", server.lastRefusal());
        json.writeEndObject();
    }

    /** 200 as long as the process answers at all. */
    void live(Context ctx) {
        Requests.answer(ctx, 200, json -> json.writeBooleanField("live", true));
    }
}
