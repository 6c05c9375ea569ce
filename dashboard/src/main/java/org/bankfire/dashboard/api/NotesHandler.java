package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Consumer;
import org.bankfire.analysis.logbook.BadEntryException;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;

/** What was said about a forge. */
final class NotesHandler {
    static final double USUAL_SPAN_S = 24 * 3_600;
    // A day in a busy workshop holds some hundred notes; more than this is asked for in shorter spans.
    private static final int MOST_NOTES = 2_000;

    private final ForgeFeed feed;
    private final LogBook logBook;
    private final Consumer<String> written;

    /** {@code written} hears the forge's id after each note. */
    NotesHandler(ForgeFeed feed, LogBook logBook, Consumer<String> written) {
        this.feed = feed;
        this.logBook = logBook;
        this.written = written;
    }

    void list(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        // The end is excluded, and a note may have been written in this very microsecond.
        WallTime to = Requests.time(ctx, "to", feed.now().plusSeconds(1));
        WallTime from = Requests.time(ctx, "from", to.plusSeconds(-USUAL_SPAN_S));
        Requests.order(from, to);
        List<Note> notes = new ArrayList<>(logBook.notes(forge, from, to));
        notes.sort(Comparator.comparing(Note::time).reversed());
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeArrayFieldStart("notes");
            for (Note note : notes.subList(0, Math.min(notes.size(), MOST_NOTES))) {
                json.writeStartObject();
                members(json, note);
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    void add(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ObjectNode body = Requests.body(ctx, "name", "text", "time");
        String name = Requests.text(body, "name", Note.REMARK, 1, 64);
        if (!name.equals(Note.REMARK) && !name.equals(Note.STOCK)) {
            throw ApiException.bad("name", name, "note, stock; the plug and other settings go to settings");
        }
        String text = Requests.text(body, "text", null, 1, Note.MAX_TEXT_LENGTH);
        if (name.equals(Note.STOCK)) {
            text = stock(text);
        }
        WallTime time = Writing.time(Requests.text(body, "time", "", 0, 64), feed);
        Writing.refuseTwice(logBook, forge, new EntryKey(time, name));
        Note note = new Note(forge, time, name, text);
        logBook.add(note);
        written.accept(forge);
        Requests.answer(ctx, 201, json -> members(json, note));
    }

    private static String stock(String text) {
        try {
            return EntryRules.check(Note.STOCK, text, "").value();
        } catch (BadEntryException bad) {
            throw ApiException.bad("text", bad.value(), bad.allowed());
        }
    }

    private static void members(JsonGenerator json, Note note) throws IOException {
        Json.time(json, note.time());
        json.writeStringField("name", note.name());
        json.writeStringField("text", note.text());
    }
}
