package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.util.UUID;
import org.bankfire.dashboard.source.ForgeFeed;

/** All forges at a glance. */
final class FleetHandler {
    private final FleetTable table;

    FleetHandler(ForgeFeed feed) {
        // Eight digits of chance: no two runs of a daemon have the same within the life of a page.
        table = new FleetTable(feed, UUID.randomUUID().toString().substring(0, 8));
    }

    void fleet(Context ctx) {
        FleetTable.Answer answer = table.since(ctx.queryParam("since"), System.nanoTime());
        ctx.contentType("application/json");
        ctx.header("Cache-Control", "no-store");
        ctx.header("Vary", "Accept-Encoding");
        String accepted = ctx.header("Accept-Encoding");
        byte[] compressed = answer.compressed();
        if (compressed != null && accepted != null && accepted.contains("gzip")) {
            ctx.header("Content-Encoding", "gzip");
            ctx.result(compressed);
        } else {
            ctx.result(answer.plain());
        }
    }
}
