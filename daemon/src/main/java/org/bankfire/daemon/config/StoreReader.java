package org.bankfire.daemon.config;

import java.net.InetAddress;
import java.net.URI;
import java.net.URISyntaxException;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.jspecify.annotations.Nullable;

/** Reads {@code [store]}. */
final class StoreReader {
    private static final String DEFAULT_STORE = "bankfire.db";
    private static final int SECONDS_PER_DAY = 86_400;
    private static final Range KEEP_S = new Range(SECONDS_PER_DAY, 36_500.0 * SECONDS_PER_DAY);
    /** Two years: a winter's burns stay comparable with the last winter's. */
    private static final double DEFAULT_KEEP_S = 730.0 * SECONDS_PER_DAY;
    /** A week: charts of the last days need no server. */
    private static final double DEFAULT_KEEP_LOCAL_S = 7.0 * SECONDS_PER_DAY;

    private static final Range SPOOL_BYTES = new Range(1e6, 1e12);
    private static final double DEFAULT_SPOOL_BYTES = 2e9;

    private static final String DEFAULT_URL = "http://127.0.0.1:8086";
    private static final String DEFAULT_DATABASE = "bankfire";
    private static final int MAX_DATABASE_LENGTH = 64;
    private static final int MAX_PORT = 65_535;
    private static final String URL_ALLOWED =
            "http://HOST:PORT or https://HOST:PORT, without a user or a path, as in \"" + DEFAULT_URL + "\"";
    private static final String DATABASE_ALLOWED = "1 to 64 letters, digits, '-', '.', '_' and '/'";
    private static final Map<String, StoreConfig.Kind> KINDS =
            Section.words(Map.entry("sqlite", StoreConfig.Kind.SQLITE), Map.entry("influx", StoreConfig.Kind.INFLUX));
    private static final String[] SERVER_KEYS = {"url", "database", "user", "password-file", "keep-local", "spool-limit"
    };

    private StoreReader() {}

    static StoreConfig usual(Path baseDir) {
        return new StoreConfig(baseDir.resolve(DEFAULT_STORE), Duration.ofSeconds((long) DEFAULT_KEEP_S), null);
    }

    static @Nullable StoreConfig read(Section section, Path baseDir) {
        StoreConfig.Kind kind = section.choice("kind", KINDS, StoreConfig.Kind.SQLITE);
        Path given = Paths.read(section, "path", "path of a file, as in \"bankfire.db\"", baseDir);
        Path path = given == null ? baseDir.resolve(DEFAULT_STORE) : given;
        double keepS = section.quantity("keep-readings", Dimension.DURATION, KEEP_S, "730 days", DEFAULT_KEEP_S);
        StoreConfig.@Nullable Server server = null;
        if (kind == StoreConfig.Kind.INFLUX) {
            server = server(section, baseDir, keepS);
        } else {
            for (String key : SERVER_KEYS) {
                section.refuseIfThere(key, "goes with kind = \"influx\" only");
            }
        }
        section.refuseOthers();
        StoreConfig.@Nullable Server behind = server;
        return section.build(() -> new StoreConfig(path, Duration.ofSeconds(Math.round(keepS)), behind));
    }

    private static StoreConfig.@Nullable Server server(Section section, Path baseDir, double keepS) {
        URI url = url(section);
        String database = section.text("database", DATABASE_ALLOWED, DEFAULT_DATABASE);
        if (!database.matches("[A-Za-z0-9._/-]{1," + MAX_DATABASE_LENGTH + "}")) {
            section.refuse("database", DATABASE_ALLOWED);
        }
        String user = section.text("user", "name that the server knows");
        Path passwordFile = Paths.read(
                section, "password-file", "path of a file with the password or token in its first line", baseDir);
        Paths.doubtIfAbsent(section, "password-file", passwordFile);
        if ((user == null) != (passwordFile == null)) {
            section.refuse(
                    user == null ? "password-file" : "user",
                    "user and password-file go together; of a token the user may be any name");
        }
        if (passwordFile != null && url != null && "http".equals(url.getScheme()) && !isThisMachine(url)) {
            section.doubt("password-file", "the password travels readable over http://; https:// would hide it", "");
        }
        double keepLocalS = section.quantity(
                "keep-local", Dimension.DURATION, KEEP_S, "7 days", Math.min(DEFAULT_KEEP_LOCAL_S, keepS));
        if (keepLocalS > keepS) {
            section.refuse("keep-local", "no longer than keep-readings");
        }
        double spoolBytes = section.quantity("spool-limit", Dimension.SIZE, SPOOL_BYTES, "2 GB", DEFAULT_SPOOL_BYTES);
        return section.build(() -> new StoreConfig.Server(
                new InfluxSettings(url == null ? URI.create(DEFAULT_URL) : url, database, user, passwordFile),
                Duration.ofSeconds(Math.round(keepLocalS)),
                Math.round(spoolBytes)));
    }

    private static @Nullable URI url(Section section) {
        String text = section.text("url", URL_ALLOWED, DEFAULT_URL);
        try {
            URI url = new URI(text);
            String path = url.getPath();
            if (("http".equals(url.getScheme()) || "https".equals(url.getScheme()))
                    && url.getHost() != null
                    && url.getUserInfo() == null
                    && (path == null || path.isEmpty() || path.equals("/"))
                    && url.getQuery() == null
                    && url.getFragment() == null
                    && url.getPort() > 0
                    && url.getPort() <= MAX_PORT) {
                return new URI(url.getScheme() + "://" + url.getHost() + ":" + url.getPort());
            }
        } catch (URISyntaxException e) {
            // Told below, with what is allowed.
        }
        if (text.contains("@")) {
            section.refuseUnseen("url", URL_ALLOWED + "; what stands before the @ belongs into user and password-file");
        } else if (text.contains("?") || text.contains("#")) {
            // A password may stand there: it is not shown.
            section.refuseUnseen("url", URL_ALLOWED + "; what stands behind the ? belongs into user and password-file");
        } else {
            section.refuse("url", URL_ALLOWED);
        }
        return null;
    }

    /** By its text alone: no name is looked up while a configuration is read. */
    private static boolean isThisMachine(URI url) {
        String host = url.getHost();
        if (host.equals("localhost")) {
            return true;
        }
        try {
            return host.matches("[0-9.]+|\\[.*]") && InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            return false;
        }
    }
}
