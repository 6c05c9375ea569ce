package org.bankfire.dashboard.api;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;
import org.jspecify.annotations.Nullable;

/** The log of a forge with its history; corrections of it, and weighings. */
final class EntriesHandler {
    // A day in a busy workshop holds some hundred entries; more than this is asked for in shorter spans.
    private static final int MOST_ENTRIES = 2_000;
    private static final String UNNAMED = "page";

    private final ForgeFeed feed;
    private final LogBook logBook;
    private final Consumer<String> written;

    /** {@code written} hears the forge's id after each correction and weighing. */
    EntriesHandler(ForgeFeed feed, LogBook logBook, Consumer<String> written) {
        this.feed = feed;
        this.logBook = logBook;
        this.written = written;
    }

    void list(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        WallTime to = Requests.time(ctx, "to", feed.now().plusSeconds(1));
        WallTime from = Requests.time(ctx, "from", to.plusSeconds(-NotesHandler.USUAL_SPAN_S));
        Requests.order(from, to);
        ResolvedLog log = logBook.log(forge, from, to);
        List<Entry> newestFirst = new ArrayList<>(log.entries());
        String kind = ctx.queryParam("kind");
        if (kind != null && !kind.equals("note") && !kind.equals("setting")) {
            throw ApiException.bad("kind", kind, "note, setting");
        }
        newestFirst.removeIf(entry -> kind != null && entry.isSetting() != kind.equals("setting"));
        Collections.reverse(newestFirst);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeArrayFieldStart("entries");
            for (Entry entry : newestFirst.subList(0, Math.min(newestFirst.size(), MOST_ENTRIES))) {
                EntryJson.write(json, entry);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("unmatched");
            for (Correction correction : log.unmatched()) {
                json.writeStartObject();
                json.writeStringField("writtenFor", correction.entry().time().toString());
                json.writeStringField("name", correction.entry().name());
                json.writeStringField("at", correction.at().toString());
                json.writeStringField("text", correction.note().text());
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    void inForce(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        WallTime at = Requests.time(ctx, "at", feed.now());
        TreeMap<String, Setting> byName = new TreeMap<>(logBook.inForce(forge, at));
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeArrayFieldStart("settings");
            for (Setting setting : byName.values()) {
                if (LogResolver.isCorrectable(setting.name())) {
                    json.writeStartObject();
                    EntryJson.setting(json, setting);
                    json.writeEndObject();
                }
            }
            json.writeEndArray();
        });
    }

    void correct(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ObjectNode body = Requests.body(ctx, "writtenFor", "name", "value", "unit", "time", "withdraw", "by");
        WallTime writtenFor = Requests.time("writtenFor", Requests.text(body, "writtenFor", null, 1, 64));
        EntryKey key = new EntryKey(writtenFor, Requests.text(body, "name", null, 1, 128));
        entry(forge, key);
        Correction correction = correction(forge, key, body);
        logBook.add(correction.note());
        written.accept(forge);
        Entry now = entry(forge, key);
        Requests.answer(ctx, 201, json -> {
            json.writeFieldName("entry");
            EntryJson.write(json, now);
        });
    }

    /** The entry that is named, which people may correct. */
    private Entry entry(String forge, EntryKey key) {
        if (!LogResolver.isCorrectable(key.name())) {
            throw ApiException.bad(
                    "name",
                    key.name(),
                    "an entry that somebody wrote down: not one of the alarms, the clock or a correction");
        }
        ResolvedLog log = logBook.log(forge, key.time(), key.time().plusMicros(1));
        return log.entry(key)
                .orElseThrow(() -> ApiException.unknown(
                        "entry",
                        key.toString(),
                        "what GET entries lists, each named by its writtenFor and name as first written down"));
    }

    private Correction correction(String forge, EntryKey key, ObjectNode body) {
        String by = Requests.text(body, "by", UNNAMED, 1, Correction.MAX_BY_LENGTH);
        String value = Requests.text(body, "value", "", 0, Correction.MAX_VALUE_LENGTH);
        String unit = Requests.text(body, "unit", "", 0, 32);
        String time = Requests.text(body, "time", "", 0, 64);
        boolean withdraw = body.has("withdraw") && Requests.yesOrNo(body, "withdraw");
        if (withdraw == !(value.isEmpty() && time.isEmpty())) {
            throw ApiException.bad(
                    "value", value, "a new value, a new time, or both; or \"withdraw\": true and neither of them");
        }
        if (withdraw) {
            return Correction.withdraw(forge, feed.now(), key, by);
        }
        @Nullable WallTime movedTo = time.isEmpty() ? null : Writing.time(time, feed);
        @Nullable
        String corrected =
                value.isEmpty() ? null : Writing.check(key.name(), value, unit).toString();
        return new Correction(forge, feed.now(), key, movedTo, corrected, false, by);
    }

    void weigh(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        ObjectNode body = Requests.body(ctx, "value", "unit", "time");
        String value = Requests.text(body, "value", null, 1, 64);
        String unit = Requests.text(body, "unit", "", 0, 32);
        Worded mass = Writing.check(ChannelNames.CYLINDER, value, unit);
        WallTime time = Writing.time(Requests.text(body, "time", "", 0, 64), feed);
        Writing.refuseTwice(logBook, forge, new EntryKey(time, ChannelNames.CYLINDER));
        Reading reading =
                Reading.good(new Channel(forge, ChannelNames.CYLINDER), mass.number(), Unit.KILOGRAM, time, time);
        logBook.add(reading);
        written.accept(forge);
        Requests.answer(ctx, 201, json -> {
            Json.time(json, time);
            json.writeStringField("name", ChannelNames.CYLINDER);
            json.writeStringField("text", mass.toString());
        });
    }
}
