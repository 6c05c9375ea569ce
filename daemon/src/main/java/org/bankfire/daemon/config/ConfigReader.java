package org.bankfire.daemon.config;

import java.io.IOException;
import java.nio.charset.MalformedInputException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Reads the configuration file. Whatever is wrong is found in one go: when the text is not TOML, every place where it is
 * not; else every key that is unknown, missing, of the wrong kind or out of range. Every key, its meaning and its default
 * stand in {@code fixtures/examples/reference.toml}.
 */
public final class ConfigReader {
    // Larger files are refused unread; the same bound holds for the text.
    private static final long MAX_FILE_BYTES = 4L << 20;

    private static final String NEEDS_FORGE =
            "one forge at least: write [[forge]] and its id, burner, chamber and lining";

    private ConfigReader() {}

    /** Reads a file; paths in it are relative to its folder. */
    public static CheckedConfig read(Path file) throws ConfigException {
        return read(file, List.of());
    }

    /**
     * Reads a file and sets some of its keys anew.
     *
     * @param overrides {@code KEY=VALUE}, in order; see the forge's keys of the configuration
     */
    public static CheckedConfig read(Path file, List<String> overrides) throws ConfigException {
        String text;
        try {
            if (Files.size(file) > MAX_FILE_BYTES) {
                throw unreadable(file, "larger than a configuration can be");
            }
            text = Files.readString(file);
        } catch (NoSuchFileException e) {
            throw unreadable(file, "there is no such file");
        } catch (MalformedInputException e) {
            throw unreadable(file, "not UTF-8 text");
        } catch (IOException e) {
            throw unreadable(file, "cannot be read: " + e);
        }
        Path folder = file.toAbsolutePath().getParent();
        return read(text, file.toString(), folder == null ? file.toAbsolutePath() : folder, overrides);
    }

    /**
     * Reads a text.
     *
     * @param fileName for messages
     * @param baseDir what paths are relative to
     */
    public static CheckedConfig read(String text, String fileName, Path baseDir) throws ConfigException {
        return read(text, fileName, baseDir, List.of());
    }

    /** Reads a text and sets some of its keys anew. */
    public static CheckedConfig read(String text, String fileName, Path baseDir, List<String> overrides)
            throws ConfigException {
        return read(text, fileName, baseDir, overrides, new Problems());
    }

    static CheckedConfig read(String text, String fileName, Path baseDir, List<String> overrides, Problems problems)
            throws ConfigException {
        Node.Table tree = TomlTree.parse(text, fileName, problems);
        if (problems.errorCount() == 0) {
            Overrides.apply(tree, overrides, problems);
        }
        if (problems.errorCount() > 0) {
            throw new ConfigException(problems.errors());
        }
        BankfireConfig config =
                read(new Section(tree, "", problems), baseDir.toAbsolutePath().normalize(), problems);
        if (config == null) {
            throw new ConfigException(problems.errors());
        }
        return new CheckedConfig(config, problems.warnings());
    }

    private static @Nullable BankfireConfig read(Section root, Path baseDir, Problems problems) {
        DaemonConfig daemon = daemon(root);
        DashboardConfig dashboard = dashboard(root);
        StoreConfig store = store(root, baseDir);
        List<Section> forgeSections = root.tables("forge");
        List<String> ids = new ArrayList<>();
        List<ForgeConfig> forges = new ArrayList<>();
        Map<String, Place> places = new HashMap<>();
        for (Section section : forgeSections) {
            ForgeReader reader = new ForgeReader(section, problems);
            ForgeConfig forge = reader.read();
            if (!reader.id().isEmpty()) {
                Place first = places.putIfAbsent(reader.id(), section.placeOf("id"));
                if (first != null) {
                    section.refuse("id", "each forge has an id of its own; this one stands in line " + first.line());
                }
                ids.add(reader.id());
            }
            if (forge != null) {
                forges.add(forge);
            }
        }
        if (forgeSections.isEmpty() && !root.has("forge")) {
            root.missing("forge", NEEDS_FORGE);
        } else if (forgeSections.isEmpty() && problems.errorCount() == 0) {
            root.refuse("forge", NEEDS_FORGE);
        }
        BrokerReader brokers = new BrokerReader(baseDir);
        List<SourceConfig> sources = new SourcesReader(ids, baseDir, brokers, problems).read(root.tables("source"));
        List<OutputConfig> outputs = new OutputsReader(ids, baseDir, brokers).read(root.tables("output"));
        if (!root.has("source")) {
            root.doubt("source", "no source: nothing will be read; write [[source]] and its kind", "");
        }
        if (root.has("access")) {
            root.refuse("access", "not available yet in this version: the page is served to this machine only");
        }
        root.refuseOthers();
        return problems.errorCount() > 0 || dashboard == null || store == null
                ? null
                : new BankfireConfig(daemon, dashboard, store, sources, outputs, forges);
    }

    private static DaemonConfig daemon(Section root) {
        Section section = root.table("daemon");
        if (section == null) {
            return DaemonConfig.DEFAULT;
        }
        boolean automatic = section.node("ledger-threads") instanceof Node.Scalar word
                && word.value().equals("auto");
        int threads = automatic
                ? DaemonConfig.AUTOMATIC
                : (int) section.integer("ledger-threads", 1, DaemonConfig.MOST_LEDGER_THREADS, DaemonConfig.AUTOMATIC);
        section.refuseOthers();
        return new DaemonConfig(threads);
    }

    private static @Nullable DashboardConfig dashboard(Section root) {
        Section section = root.table("dashboard");
        if (section == null) {
            return new DashboardConfig(ListenAddress.DEFAULT_HOST, ListenAddress.DEFAULT_PORT);
        }
        DashboardConfig dashboard = ListenAddress.read(section);
        section.refuseOthers();
        return dashboard;
    }

    private static @Nullable StoreConfig store(Section root, Path baseDir) {
        Section section = root.table("store");
        return section == null ? StoreReader.usual(baseDir) : StoreReader.read(section, baseDir);
    }

    private static ConfigException unreadable(Path file, String why) {
        return new ConfigException(List.of(new ConfigProblem(file.toString(), 0, "", "", why, "")));
    }
}
