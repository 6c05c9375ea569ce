package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;

/** One forge as it is now; the live stream sends the same object. */
final class NowHandler {
    private final ForgeFeed feed;

    NowHandler(ForgeFeed feed) {
        this.feed = feed;
    }

    void now(Context ctx) {
        ForgeFace face = Requests.forge(ctx, feed);
        String id = face.description().id();
        ForgeSnapshot snapshot =
                feed.snapshot(id).orElseThrow(() -> ApiException.unknown("snapshot of forge", id, "none"));
        ctx.contentType("application/json")
                .result(SnapshotJson.of(snapshot, feed.now(), face.settings().gasPricePerKg()));
    }
}
