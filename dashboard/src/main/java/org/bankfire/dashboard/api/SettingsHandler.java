package org.bankfire.dashboard.api;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Consumer;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;

/** Settings that came into force: the plug, a jet, a choke. */
final class SettingsHandler {
    private static final int MOST_SETTINGS = 2_000;

    private final ForgeFeed feed;
    private final LogBook logBook;
    private final Consumer<String> written;

    /** {@code written} hears the forge's id after each setting. */
    SettingsHandler(ForgeFeed feed, LogBook logBook, Consumer<String> written) {
        this.feed = feed;
        this.logBook = logBook;
        this.written = written;
    }

    void list(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        WallTime to = Requests.time(ctx, "to", feed.now().plusSeconds(1));
        WallTime from = Requests.time(ctx, "from", to.plusSeconds(-NotesHandler.USUAL_SPAN_S));
        Requests.order(from, to);
        List<Setting> settings = new ArrayList<>(logBook.settings(forge, from, to));
        settings.sort(Comparator.comparing(Setting::time).reversed());
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeArrayFieldStart("settings");
            for (Setting setting : settings.subList(0, Math.min(settings.size(), MOST_SETTINGS))) {
                json.writeStartObject();
                EntryJson.setting(json, setting);
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    void add(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ObjectNode body = Requests.body(ctx, "name", "value", "unit", "time");
        String name = Requests.text(body, "name", null, 1, 128);
        if (!Setting.isSetting(name)) {
            throw ApiException.bad("name", name, "plug, or setting- followed by letters, digits, '.', '_' and '-'");
        }
        String value = Requests.text(body, "value", null, 1, EntryRules.MAX_VALUE_LENGTH);
        Worded kept = Writing.check(name, value, Requests.text(body, "unit", "", 0, 32));
        WallTime time = Writing.time(Requests.text(body, "time", "", 0, 64), feed);
        Writing.refuseTwice(logBook, forge, new EntryKey(time, name));
        Setting setting = new Setting(forge, time, name, kept.value(), kept.unit());
        logBook.add(setting);
        written.accept(forge);
        Requests.answer(ctx, 201, json -> EntryJson.setting(json, setting));
    }
}
