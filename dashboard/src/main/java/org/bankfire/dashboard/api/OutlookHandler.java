package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import org.bankfire.analysis.outlook.OutlookSettings;
import org.bankfire.analysis.outlook.Score;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.OutlookBook;
import org.bankfire.dashboard.source.OutlookBook.Seen;
import org.jspecify.annotations.Nullable;

/** What lies ahead of the burn that goes on. */
final class OutlookHandler {
    private final ForgeFeed feed;
    private final OutlookBook book;

    OutlookHandler(ForgeFeed feed, OutlookBook book) {
        this.feed = feed;
        this.book = book;
    }

    void outlook(Context ctx) {
        ForgeFace face = Requests.forge(ctx, feed);
        String forge = face.description().id();
        @Nullable Seen seen = book.outlook(forge, pauseS(ctx)).orElse(null);
        Score score = book.score(forge);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeStringField("currency", face.currency());
            OutlookJson.write(json, seen, score);
        });
    }

    private static double pauseS(Context ctx) {
        String text = ctx.queryParam("pauseS");
        if (text == null) {
            return Double.NaN;
        }
        double seconds;
        try {
            seconds = Double.parseDouble(text);
        } catch (NumberFormatException noNumber) {
            seconds = Double.NaN;
        }
        if (!OutlookSettings.PAUSE_S.contains(seconds)) {
            String allowed = "seconds from " + Math.round(OutlookSettings.PAUSE_S.low()) + " to "
                    + Math.round(OutlookSettings.PAUSE_S.high());
            throw ApiException.bad("pauseS", text, allowed);
        }
        return seconds;
    }
}
