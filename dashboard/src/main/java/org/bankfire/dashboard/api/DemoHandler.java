package org.bankfire.dashboard.api;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.util.List;
import org.bankfire.dashboard.source.ForgeControls;

/** What the virtual forge can be made to do. Without a virtual forge there is no such resource. */
final class DemoHandler {
    private final ForgeControls controls;

    DemoHandler(ForgeControls controls) {
        this.controls = controls;
    }

    void list(Context ctx) {
        List<String> actions = actions();
        Requests.answer(ctx, 200, json -> {
            json.writeArrayFieldStart("actions");
            for (String action : actions) {
                json.writeString(action);
            }
            json.writeEndArray();
        });
    }

    void trigger(Context ctx) {
        List<String> actions = actions();
        ObjectNode body = Requests.body(ctx, "action");
        String action = Requests.text(body, "action", null, 1, 100);
        if (!actions.contains(action)) {
            throw ApiException.bad("action", action, String.join(", ", actions));
        }
        controls.demo(action);
        Requests.answer(ctx, 200, json -> json.writeStringField("action", action));
    }

    private List<String> actions() {
        List<String> actions = controls.demoActions();
        if (actions.isEmpty()) {
            throw new ApiException(404, "no virtual forge is running, so there is nothing to trigger");
        }
        return actions;
    }
}
