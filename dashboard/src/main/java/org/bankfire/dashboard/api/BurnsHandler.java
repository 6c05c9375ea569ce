package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.util.List;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;

/** The burns of a forge, newest first. */
final class BurnsHandler {
    private static final int USUAL_BURNS = 50;
    private static final int MOST_BURNS = 1_000;

    private final ForgeFeed feed;
    private final LogBook logBook;

    BurnsHandler(ForgeFeed feed, LogBook logBook) {
        this.feed = feed;
        this.logBook = logBook;
    }

    void list(Context ctx) {
        ForgeFace face = Requests.forge(ctx, feed);
        String forge = face.description().id();
        List<Burn> burns = logBook.burns(forge, Requests.integer(ctx, "limit", USUAL_BURNS, 1, MOST_BURNS));
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeStringField("currency", face.currency());
            json.writeArrayFieldStart("burns");
            for (Burn burn : burns) {
                SnapshotJson.burn(json, burn, face.settings().gasPricePerKg());
            }
            json.writeEndArray();
        });
    }
}
