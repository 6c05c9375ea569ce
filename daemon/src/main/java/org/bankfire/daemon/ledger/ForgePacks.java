package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.acquire.frame.Pack;

/** Packs by the forges that they speak of. */
final class ForgePacks {
    private ForgePacks() {}

    /** What a pack says of each forge, in the order in which they are named first; empty for an empty pack. */
    static Map<String, Pack> split(Pack pack) {
        if (speaksOfOne(pack)) {
            return Map.of(pack.readings().get(0).channel().forge(), pack);
        }
        record Part(List<Reading> readings, List<Note> notes, List<Setting> settings) {}
        Map<String, Part> parts = new LinkedHashMap<>();
        Function<String, Part> of = forge ->
                parts.computeIfAbsent(forge, any -> new Part(new ArrayList<>(), new ArrayList<>(), new ArrayList<>()));
        pack.readings()
                .forEach(reading -> of.apply(reading.channel().forge()).readings.add(reading));
        pack.notes().forEach(note -> of.apply(note.forge()).notes.add(note));
        pack.settings().forEach(setting -> of.apply(setting.forge()).settings.add(setting));
        Map<String, Pack> packs = new LinkedHashMap<>();
        parts.forEach((forge, part) -> packs.put(forge, new Pack(part.readings, part.notes, part.settings)));
        return packs;
    }

    /** Whether it holds readings, and of one forge alone, as nearly all do. */
    private static boolean speaksOfOne(Pack pack) {
        if (pack.readings().isEmpty()) {
            return false;
        }
        String first = pack.readings().get(0).channel().forge();
        for (Reading reading : pack.readings()) {
            if (!reading.channel().forge().equals(first)) {
                return false;
            }
        }
        return pack.notes().stream().allMatch(note -> note.forge().equals(first))
                && pack.settings().stream().allMatch(setting -> setting.forge().equals(first));
    }
}
