package org.bankfire.dashboard.api;

import io.javalin.http.Context;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import org.bankfire.dashboard.source.OutputBook;
import org.bankfire.dashboard.source.OutputBook.OutputState;
import org.bankfire.dashboard.source.OutputBook.Tested;

/** The outputs that tell alarms elsewhere, and their tests. */
final class OutputsHandler {
    private final OutputBook book;

    OutputsHandler(OutputBook book) {
        this.book = book;
    }

    void list(Context ctx) {
        Requests.answer(ctx, 200, json -> {
            json.writeArrayFieldStart("outputs");
            for (OutputState output : book.outputs()) {
                json.writeStartObject();
                json.writeStringField("name", output.name());
                json.writeStringField("kind", output.kind());
                json.writeStringField("state", output.condition().code());
                json.writeStringField("detail", output.detail());
                json.writeNumberField("sent", output.sent());
                json.writeNumberField("failed", output.failed());
                json.writeNumberField("waiting", output.waiting());
                json.writeNumberField("dropped", output.dropped());
                Json.text(
                        json,
                        "lastSentAt",
                        output.lastSentAt() == null ? null : output.lastSentAt().toString());
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    /** Answers when the peer has, without holding a thread of the server meanwhile. */
    void test(Context ctx) {
        String name = ctx.pathParam("name");
        Requests.body(ctx);
        CompletableFuture<Tested> test =
                book.test(name).orElseThrow(() -> ApiException.unknown("output", name, known()));
        ctx.future(() -> test.thenAccept(tested -> Requests.answer(ctx, 200, json -> {
            json.writeBooleanField("done", tested.done());
            json.writeStringField("words", tested.words());
        })));
    }

    private String known() {
        String names = book.outputs().stream().map(OutputState::name).collect(Collectors.joining(", "));
        return names.isEmpty() ? "none is configured" : names;
    }
}
