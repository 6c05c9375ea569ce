package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.ForgeFeed;

/** Takes the present output of a transducer as its zero. */
final class ZeroHandler {
    private final ForgeFeed feed;
    private final ForgeControls controls;

    ZeroHandler(ForgeFeed feed, ForgeControls controls) {
        this.feed = feed;
        this.controls = controls;
    }

    void zero(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        String channel = ctx.pathParam("channel");
        Requests.body(ctx);
        try {
            new Channel(forge, channel);
        } catch (IllegalArgumentException e) {
            throw ApiException.bad("channel", channel, "a channel's name, such as gas");
        }
        String result = controls.captureZero(forge, channel);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeStringField("channel", channel);
            json.writeStringField("result", result);
        });
    }
}
