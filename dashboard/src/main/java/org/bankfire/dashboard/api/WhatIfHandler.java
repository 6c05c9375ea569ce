package org.bankfire.dashboard.api;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.WhatIf;
import org.bankfire.dashboard.source.WhatIf.Asked;
import org.bankfire.dashboard.source.WhatIf.BusyException;
import org.bankfire.dashboard.source.WhatIf.RefusedException;

/** What a forge would do if it were changed. */
final class WhatIfHandler {
    /** Longer than any key of a forge. */
    private static final int MAX_KEY_LENGTH = 128;
    /** A lining of a dozen layers in one value. */
    private static final int MAX_VALUE_LENGTH = 4_000;

    private static final String CHANGES =
            "an object of at most " + WhatIf.MOST_CHANGES + " keys of the forge with their values, each a text";
    /** About as long as one answer takes, s. */
    private static final String RETRY_S = "5";

    private final ForgeFeed feed;
    private final WhatIf whatIf;

    WhatIfHandler(ForgeFeed feed, WhatIf whatIf) {
        this.feed = feed;
        this.whatIf = whatIf;
    }

    void keys(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ctx.status(200).contentType("application/json").result(whatIf.keys(forge));
    }

    void ask(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ObjectNode body = Requests.body(ctx, "page", "changes");
        Asked asked = new Asked(Requests.text(body, "page", "", 0, 64), changes(body.path("changes")));
        try {
            ctx.status(200).contentType("application/json").result(whatIf.answer(forge, asked));
        } catch (RefusedException refused) {
            Requests.answer(ctx, 400, json -> {
                json.writeStringField("error", String.valueOf(refused.getMessage()));
                json.writeStringField("field", refused.key());
                json.writeStringField("value", refused.value());
                json.writeStringField("allowed", refused.allowed());
                json.writeStringField("nearest", refused.nearest());
            });
        } catch (BusyException busy) {
            if (!busy.replaced()) {
                ctx.header("Retry-After", RETRY_S);
            }
            throw new ApiException(busy.replaced() ? 409 : 503, String.valueOf(busy.getMessage()));
        }
    }

    private static Map<String, String> changes(JsonNode node) {
        Map<String, String> changes = new LinkedHashMap<>();
        if (node.isMissingNode()) {
            return changes;
        }
        if (!node.isObject() || node.size() > WhatIf.MOST_CHANGES) {
            throw ApiException.bad("changes", node.toString(), CHANGES);
        }
        for (Map.Entry<String, JsonNode> change : node.properties()) {
            String value = change.getValue().isTextual() ? change.getValue().textValue() : null;
            if (change.getKey().length() > MAX_KEY_LENGTH || value == null || value.length() > MAX_VALUE_LENGTH) {
                throw ApiException.bad(
                        "changes." + change.getKey(), change.getValue().toString(), CHANGES);
            }
            changes.put(change.getKey(), value);
        }
        return changes;
    }
}
