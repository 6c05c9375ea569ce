package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.TrialBook;
import org.jspecify.annotations.Nullable;

/** Trials of a forge: what its settings changed. */
final class TrialsHandler {
    /** Ids are a forge's name and a time; a longer one is none. */
    private static final int MAX_ID_LENGTH = 100;

    private final ForgeFeed feed;
    private final TrialBook trials;

    TrialsHandler(ForgeFeed feed, TrialBook trials) {
        this.feed = feed;
        this.trials = trials;
    }

    /** As JSON. */
    void json(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ctx.status(200).contentType("application/json").result(trials.trials(forge, asked(ctx, feed)));
    }

    /** As CSV. */
    void csv(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        String text = trials.csv(forge, asked(ctx, feed));
        ctx.status(200)
                .contentType("text/csv; charset=utf-8")
                .header("Content-Disposition", "attachment; filename=\"trials-" + forge + ".csv\"")
                .result(text);
    }

    /** The burns that a request asks for. */
    static TrialBook.Asked asked(Context ctx, ForgeFeed feed) {
        WallTime from = Requests.time(ctx, "from", new WallTime(0));
        WallTime to = Requests.time(ctx, "to", feed.now().plusSeconds(1));
        Requests.order(from, to);
        return new TrialBook.Asked(burns(ctx.queryParam("burns")), from, to);
    }

    private static List<String> burns(@Nullable String text) {
        List<String> burns = new ArrayList<>();
        if (text == null) {
            return burns;
        }
        for (String part : text.split(",", -1)) {
            String id = part.strip();
            if (id.isEmpty() || id.length() > MAX_ID_LENGTH || burns.size() == TrialBook.MOST_BURNS) {
                throw ApiException.bad(
                        "burns",
                        text.length() > MAX_ID_LENGTH ? text.substring(0, MAX_ID_LENGTH) + "…" : text,
                        "up to " + TrialBook.MOST_BURNS + " ids of burns, with commas between them");
            }
            burns.add(id);
        }
        return burns;
    }
}
