package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.burnfit.LiningTrend;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.dashboard.source.FitBook;
import org.bankfire.dashboard.source.ForgeFeed;

/** Fits of burns, and what they tell of the lining. */
final class FitsHandler {
    private static final int MOST_BURNS = 1_000;

    private final ForgeFeed feed;
    private final FitBook fits;

    FitsHandler(ForgeFeed feed, FitBook fits) {
        this.feed = feed;
        this.fits = fits;
    }

    /** The fit of a burn. */
    void ofBurn(Context ctx) {
        String burn = ctx.pathParam("burn");
        answer(ctx, fits.fitOf(burn), "burn", burn);
    }

    /** The fit of the burn that goes on. */
    void now(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        answer(ctx, fits.fitNow(forge), "forge", forge);
    }

    private static void answer(Context ctx, Optional<String> fit, String field, String value) {
        if (fit.isEmpty()) {
            String what = field.equals("burn")
                    ? "there is no fit of burn \"" + value + "\": no such burn, or none made yet"
                    : "forge \"" + value + "\" has no fit of a burn that goes on";
            throw new ApiException(
                    404,
                    what + "; a burn is fitted every minute while it burns, and when it has ended",
                    field,
                    value,
                    "a burn that has been fitted");
        }
        ctx.status(200).contentType("application/json").result(fit.get());
    }

    /** Loss coefficients over the burns of a forge. */
    void lining(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        List<BurnLoss> losses =
                fits.losses(forge, Requests.integer(ctx, "limit", LiningTrend.MOST_BURNS, 1, MOST_BURNS));
        LiningTrend trend = LiningTrend.of(losses);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeArrayFieldStart("losses");
            for (BurnLoss loss : losses) {
                json.writeStartObject();
                json.writeStringField("burn", loss.burnId());
                json.writeStringField("start", loss.start().toString());
                Json.number(json, "atC", loss.atC(), 1);
                band(json, "lossWPerK", loss.wattsPerK());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeObjectFieldStart("trend");
            json.writeNumberField("burns", trend.burns());
            json.writeObjectFieldStart("earlier");
            band(json, "lossWPerK", trend.earlier());
            json.writeEndObject();
            json.writeObjectFieldStart("changePerBurn");
            band(json, "lossWPerK", trend.changePerBurn());
            json.writeEndObject();
            Json.number(json, "excess", trend.excess(), 4);
            json.writeBooleanField("lossUp", trend.lossUp());
            json.writeStringField("why", trend.why());
            json.writeEndObject();
        });
    }

    private static void band(JsonGenerator json, String name, Band band) throws IOException {
        Json.number(json, name, band.value(), 4);
        Json.number(json, "low95", band.low95(), 4);
        Json.number(json, "high95", band.high95(), 4);
    }
}
