package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.io.IOException;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import org.bankfire.dashboard.live.LiveHub;
import org.bankfire.dashboard.source.ForgeFeed;
import org.jspecify.annotations.Nullable;

/** Opens the live stream of one forge, or of all of them. */
final class LiveHandler {
    private final ForgeFeed feed;
    private final LiveHub live;

    LiveHandler(ForgeFeed feed, LiveHub live) {
        this.feed = feed;
        this.live = live;
    }

    void open(Context ctx) throws IOException {
        String forge = ctx.queryParam("forge");
        requireKnown(forge);
        if (!live.open(ctx.req(), ctx.res(), forge)) {
            ctx.header("Retry-After", "5");
            throw new ApiException(
                    503, "the live stream already has " + LiveHub.MAX_CLIENTS + " pages; close one and try again");
        }
        // A future that never ends: the response is the hub's to finish, not the framework's.
        ctx.future(CompletableFuture::new);
    }

    private void requireKnown(@Nullable String forge) {
        if (forge != null && feed.snapshot(forge).isEmpty()) {
            String known =
                    feed.forges().stream().map(face -> face.description().id()).collect(Collectors.joining(", "));
            throw ApiException.unknown("forge", forge, known.isEmpty() ? "none yet" : known);
        }
    }
}
