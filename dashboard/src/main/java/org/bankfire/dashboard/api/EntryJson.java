package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.reading.Setting;

/** Entries of the log as JSON. */
final class EntryJson {
    private EntryJson() {}

    /** An entry as it stands, what names it, and its history. */
    static void write(JsonGenerator json, Entry entry) throws IOException {
        EntryKey key = entry.key();
        json.writeStartObject();
        json.writeStringField("writtenFor", key.time().toString());
        json.writeStringField("name", key.name());
        said(json, entry.now(), entry.isSetting());
        json.writeBooleanField("correctable", LogResolver.isCorrectable(key.name()));
        json.writeBooleanField("corrected", entry.isCorrected());
        json.writeArrayFieldStart("history");
        for (Entry.Revision step : entry.history()) {
            json.writeStartObject();
            json.writeStringField("at", step.at().toString());
            json.writeNumberField("atT", step.at().epochSeconds());
            json.writeStringField("by", step.by());
            json.writeObjectFieldStart("before");
            said(json, step.before(), entry.isSetting());
            json.writeEndObject();
            json.writeObjectFieldStart("after");
            said(json, step.after(), entry.isSetting());
            json.writeEndObject();
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void said(JsonGenerator json, Entry.State state, boolean setting) throws IOException {
        Json.time(json, state.time());
        if (setting) {
            json.writeStringField("value", state.value());
            json.writeStringField("unit", state.unit());
        } else {
            json.writeStringField("text", state.value());
        }
        json.writeBooleanField("withdrawn", state.withdrawn());
    }

    static void setting(JsonGenerator json, Setting setting) throws IOException {
        Json.time(json, setting.time());
        json.writeStringField("name", setting.name());
        json.writeStringField("value", setting.value());
        json.writeStringField("unit", setting.unit());
    }
}
