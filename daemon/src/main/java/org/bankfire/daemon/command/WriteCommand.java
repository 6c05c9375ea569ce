package org.bankfire.daemon.command;

import java.io.IOException;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.bankfire.analysis.logbook.BadEntryException;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreInUseException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Entries into a forge's log, and corrections of it. */
@Command(
        name = "write",
        description = {
            "Writes settings, notes and weighings into a forge's log, or corrects what stands there.",
            "",
            "NAME=VALUE is setting-jet=\"0.8 mm\", setting-choke=\"50 %%\", plug=out, stock=in, cylinder=\"11.2 kg\","
                    + " note=\"new hose\" and the like. Each entry is told back with the time that names it.",
            "Nothing is ever overwritten: a correction is kept beside what it corrects.",
            "A running daemon takes the entries through its dashboard; with none, they go into the store."
        })
public final class WriteCommand implements Callable<Integer> {
    private static final double DAY_S = 86_400;
    /** A time on the command line is often copied from a page, to the second. */
    private static final double SECOND_S = 1;

    private static final int MOST_NAMED = 8;
    /** Clocks of a workshop differ by less; what is further in the future is a typing error, s. */
    private static final double AHEAD_S = 300;
    /** Year 9999, s. */
    private static final double LATEST_S = 253_402_300_799.0;

    @Mixin
    private ConfigOption config = new ConfigOption();

    @Option(names = "--forge", paramLabel = "ID", description = "Which forge, where there are several.")
    private @Nullable String forge;

    @Option(
            names = "--by",
            paramLabel = "WHO",
            description = "Who corrects, for the history (default: the name of the user).")
    private String by = System.getProperty("user.name", "");

    @ArgGroup
    private What what = new What();

    @Option(names = "--moved-to", paramLabel = "TIME", description = "With --correct: when the entry applied in truth.")
    private @Nullable String movedTo;

    @Parameters(
            arity = "1..*",
            paramLabel = "NAME[=VALUE]",
            description = "What to write down; NAME alone with --withdraw, or with --correct and --moved-to.")
    private List<String> entries = List.of();

    @Spec
    private @Nullable CommandSpec spec;

    /** What to do. */
    static final class What {
        @Option(
                names = "--at",
                paramLabel = "TIME",
                description = "When it applies: ISO 8601 with zone, or seconds since 1970 (default: now).")
        @Nullable
        String at;

        @Option(
                names = "--correct",
                paramLabel = "TIME",
                description = "Corrects the entry that was written down for that time; VALUE is what it should say.")
        @Nullable
        String correct;

        @Option(
                names = "--withdraw",
                paramLabel = "TIME",
                description = "Withdraws the entry that was written down for that time.")
        @Nullable
        String withdraw;
    }

    @Override
    public Integer call() throws ConfigException, IOException, StoreException {
        Map<String, String> given = given();
        String corrected = what.correct != null ? what.correct : what.withdraw;
        check(given, corrected);
        BankfireConfig resolved = config.read();
        String id = chosen(resolved.forges());
        try (LogDesk desk = open(resolved, id)) {
            if (corrected == null) {
                WallTime at = what.at == null ? null : time("--at", what.at);
                for (Map.Entry<String, String> entry : given.entrySet()) {
                    Worded value = checked(entry.getKey(), entry.getValue());
                    EntryKey key = desk.write(entry.getKey(), value, at);
                    System.out.println(key + " " + value);
                }
            } else {
                for (Correction correction : corrections(desk, id, corrected, given)) {
                    desk.correct(correction);
                    System.out.println(correction.note().text());
                }
            }
            System.err.println("written to " + desk.where());
        }
        return ExitCodes.DONE;
    }

    private static LogDesk open(BankfireConfig config, String forge) throws StoreException {
        try {
            return new StoreDesk(Stores.open(config), config.store().path(), forge);
        } catch (StoreInUseException held) {
            return new DaemonDesk(config.dashboard(), forge);
        }
    }

    /** Values by name; empty text for a name alone. */
    private Map<String, String> given() {
        Map<String, String> given = new LinkedHashMap<>();
        for (String entry : entries) {
            int equals = entry.indexOf('=');
            String name = equals < 0 ? entry : entry.substring(0, equals);
            if (given.put(name, equals < 0 ? "" : entry.substring(equals + 1)) != null) {
                throw usage("\"" + entry + "\": " + name + " is given twice; allowed is one value for one time");
            }
        }
        return given;
    }

    /** Refuses all before anything is written. */
    private void check(Map<String, String> given, @Nullable String corrected) {
        if (movedTo != null && what.correct == null) {
            throw usage("--moved-to goes with --correct TIME");
        }
        if (what.at != null) {
            time("--at", what.at);
        }
        if (movedTo != null) {
            time("--moved-to", movedTo);
        }
        given.forEach((name, value) -> {
            boolean alone = what.withdraw != null || (movedTo != null && value.isEmpty());
            if (what.withdraw != null && !value.isEmpty()) {
                throw usage("\"" + name + "=" + value + "\": allowed with --withdraw is a name alone");
            }
            if (!alone) {
                checked(name, value);
            }
            if (corrected != null && !LogResolver.isCorrectable(name)) {
                throw usage(
                        "\"" + name + "\": allowed are entries that somebody wrote down, not those of alarms, the clock"
                                + " or corrections");
            }
        });
    }

    private Worded checked(String name, String value) {
        try {
            return EntryRules.check(name, value, "");
        } catch (BadEntryException bad) {
            String field = bad.field().equals("name") ? "name" : name;
            throw usage(field + "=\"" + bad.value() + "\": allowed: " + bad.allowed());
        }
    }

    private List<Correction> corrections(LogDesk desk, String id, String text, Map<String, String> given)
            throws StoreException, IOException {
        String option = what.correct != null ? "--correct" : "--withdraw";
        WallTime time = time(option, text);
        WallTime now = WallTime.of(Instant.now());
        List<Correction> corrections = new ArrayList<>();
        for (Map.Entry<String, String> entry : given.entrySet()) {
            EntryKey key = entry(desk, option, time, entry.getKey());
            WallTime stamp = now.plusMicros(corrections.size());
            if (what.withdraw != null) {
                corrections.add(Correction.withdraw(id, stamp, key, by));
            } else {
                WallTime to = movedTo == null ? null : time("--moved-to", movedTo);
                String value = entry.getValue().isEmpty()
                        ? null
                        : checked(entry.getKey(), entry.getValue()).toString();
                corrections.add(new Correction(id, stamp, key, to, value, false, by));
            }
        }
        return corrections;
    }

    /** The entry of that very time, or the only one of that name within the second that begins then. */
    private EntryKey entry(LogDesk desk, String option, WallTime time, String name) throws StoreException, IOException {
        List<EntryKey> near = desk.entries(time, time.plusSeconds(SECOND_S)).stream()
                .filter(key -> key.name().equals(name))
                .toList();
        EntryKey exact = new EntryKey(time, name);
        if (near.contains(exact)) {
            return exact;
        }
        if (near.size() == 1) {
            return near.get(0);
        }
        String known = desk.entries(time.plusSeconds(-DAY_S), time.plusSeconds(DAY_S)).stream()
                .filter(key -> key.name().equals(name))
                .limit(MOST_NAMED)
                .map(key -> key.time().toString())
                .collect(Collectors.joining(", "));
        throw usage(option + " " + time + ": "
                + (near.isEmpty() ? "no entry " : "several entries ") + name + " at that time; "
                + (known.isEmpty() ? "none within a day of it" : "within a day of it: " + known));
    }

    private WallTime time(String option, String text) {
        WallTime time = read(text);
        if (time == null) {
            throw usage(option + " \"" + text
                    + "\": allowed is ISO 8601 with a zone, such as 2026-03-01T10:00:00Z, or seconds since 1970");
        }
        if (time.isAfter(WallTime.of(Instant.now()).plusSeconds(AHEAD_S))) {
            throw usage(option + " \"" + text + "\": allowed is a time that is past, or now");
        }
        return time;
    }

    private static @Nullable WallTime read(String text) {
        try {
            double seconds = Double.parseDouble(text);
            return seconds >= 0 && seconds < LATEST_S ? WallTime.ofEpochSeconds(seconds) : null;
        } catch (NumberFormatException notSeconds) {
            try {
                return WallTime.of(OffsetDateTime.parse(text).toInstant());
            } catch (DateTimeException notIso) {
                return null;
            }
        }
    }

    private String chosen(List<ForgeConfig> forges) {
        String wanted = forge;
        if (wanted == null && forges.size() == 1) {
            return forges.get(0).id();
        }
        List<String> ids = forges.stream().map(ForgeConfig::id).toList();
        if (wanted == null || !ids.contains(wanted)) {
            throw usage((wanted == null ? "--forge is missing" : "--forge \"" + wanted + "\"") + ": one of "
                    + String.join(", ", ids));
        }
        return wanted;
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
