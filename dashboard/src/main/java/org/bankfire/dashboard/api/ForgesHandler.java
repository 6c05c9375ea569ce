package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import io.javalin.http.Context;
import java.io.IOException;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.monitor.MonitorSettings;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;

/** The forges and what does not change of them while the daemon runs. */
final class ForgesHandler {
    private static final double MM_PER_M = 1e3;

    private final ForgeFeed feed;
    private final ForgeControls controls;

    ForgesHandler(ForgeFeed feed, ForgeControls controls) {
        this.feed = feed;
        this.controls = controls;
    }

    void list(Context ctx) {
        Requests.answer(ctx, 200, json -> {
            json.writeNumberField("serverT", feed.now().epochSeconds());
            json.writeBooleanField("demo", !controls.demoActions().isEmpty());
            json.writeArrayFieldStart("forges");
            for (ForgeFace face : feed.forges()) {
                write(json, face);
            }
            json.writeEndArray();
        });
    }

    private static void write(JsonGenerator json, ForgeFace face) throws IOException {
        ForgeDescription forge = face.description();
        MonitorSettings settings = face.settings();
        json.writeStartObject();
        json.writeStringField("id", forge.id());
        json.writeStringField("name", forge.name());
        Json.number(json, "targetC", settings.targetC(), 1);
        Json.number(json, "chamberHighC", settings.chamberHighC(), 1);
        Json.number(json, "chamberLimitC", settings.chamberLimitC(), 1);
        Json.number(json, "shellLimitC", settings.shellLimitC(), 1);
        Json.number(json, "gasOnPa", settings.gasOnPa(), 1);
        Json.number(json, "gasLimitPa", settings.gasLimitPa(), 1);
        Json.number(json, "noDataAfterS", settings.noDataAfterS(), 3);
        Json.number(json, "gasPricePerKg", settings.gasPricePerKg(), 4);
        json.writeStringField("currency", face.currency());
        json.writeStringField("fuel", forge.burner().fuel().name());
        Json.number(json, "jetMm", forge.burner().jetDiameterM() * MM_PER_M, 3);
        Json.number(json, "ambientC", Unit.CELSIUS.fromSi(forge.ambientK()), 2);
        Json.number(json, "probeLagS", forge.probeLagS(), 2);
        json.writeArrayFieldStart("openings");
        for (Opening opening : forge.openings()) {
            json.writeStartObject();
            json.writeStringField("name", opening.name());
            Json.number(json, "widthMm", opening.widthM() * MM_PER_M, 1);
            Json.number(json, "heightMm", opening.heightM() * MM_PER_M, 1);
            json.writeBooleanField("plugged", opening.plugged());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }
}
