package org.bankfire.dashboard;

import io.javalin.Javalin;
import io.javalin.compression.CompressionStrategy;
import io.javalin.config.JavalinConfig;
import io.javalin.util.JavalinBindException;
import java.io.IOException;
import java.util.List;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.dashboard.access.RequestGuard;
import org.bankfire.dashboard.api.ApiRoutes;
import org.bankfire.dashboard.api.SnapshotJson;
import org.bankfire.dashboard.live.LiveHub;
import org.bankfire.dashboard.page.PageAssets;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.Sources;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.jspecify.annotations.Nullable;

/** The dashboard: the page, the HTTP API and the live stream, on a loopback address. */
public final class DashboardServer implements AutoCloseable {
    // One thread accepts and one or two select; the rest answer requests, which are short, while streams hold no
    // thread.
    // A thread costs up to 1 MB, and a small board has little to spare.
    private static final int MOST_THREADS = 12;
    private static final int LEAST_THREADS = 3;
    private static final int IDLE_THREAD_MS = 30_000;
    // Headers of browsers come to 1 or 2 kB.
    private static final int HEADER_BYTES = 8_192;
    // The pages' streams and six connections a browser for what else it loads; it also bounds what waits for a thread.
    private static final int MOST_CONNECTIONS = LiveHub.MAX_CLIENTS + 96;

    private final DashboardSettings settings;
    private final Sources sources;
    private final LiveHub live;
    private @Nullable Javalin javalin;

    /** A server that does not listen until {@link #start()}. */
    public DashboardServer(DashboardSettings settings, Sources sources) {
        this.settings = settings;
        this.sources = sources;
        this.live = new LiveHub(sources.feed(), this::snapshotJson, SnapshotJson::alarmsOf);
    }

    /**
     * Begins to listen.
     *
     * @return the port, which is the one asked for unless that was 0
     * @throws IOException when the address is taken or cannot be listened on
     */
    public int start() throws IOException {
        Javalin started = Javalin.create(this::configure);
        try {
            started.start(settings.host(), settings.port());
        } catch (JavalinBindException e) {
            started.stop();
            throw new IOException(
                    "cannot listen on " + settings.host() + ":" + settings.port()
                            + ": another program has it, or it is not this machine's",
                    e);
        }
        javalin = started;
        live.start();
        return started.port();
    }

    /** Whether a page looks at that forge now. Safe for use by many threads; returns at once. */
    public boolean isLookedAt(String forge) {
        return live.isLookedAt(forge);
    }

    @Override
    public void close() {
        live.close();
        Javalin running = javalin;
        if (running != null) {
            running.stop();
            javalin = null;
        }
    }

    private void configure(JavalinConfig config) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.startup.startupWatcherEnabled = false;
        config.http.compressionStrategy = CompressionStrategy.GZIP;
        config.http.prefer405over404 = true;
        QueuedThreadPool threads = new QueuedThreadPool(MOST_THREADS, LEAST_THREADS, IDLE_THREAD_MS);
        threads.setName("dashboard");
        threads.setDaemon(true);
        config.jetty.threadPool = threads;
        config.jetty.modifyHttpConfiguration(http -> {
            http.setSendServerVersion(false);
            http.setRequestHeaderSize(HEADER_BYTES);
        });
        config.jetty.modifyServer(server -> {
            server.addBean(new NetworkConnectionLimit(MOST_CONNECTIONS, server));
            // Browsers keep connections open; the end does not wait for them.
            server.setStopTimeout(0);
        });
        config.routes.before(new RequestGuard(settings.host()));
        ApiRoutes.answerFailures(config.routes);
        List<ApiRoutes.Route> routes = ApiRoutes.of(sources, live);
        for (ApiRoutes.Route route : routes) {
            config.routes.addHttpHandler(route.method(), route.path(), route.handler());
        }
        PageAssets page = new PageAssets();
        config.routes.get("/", page::index);
        config.routes.get("/assets/{version}/<name>", page::asset);
    }

    private byte[] snapshotJson(ForgeSnapshot snapshot) {
        double price = Double.NaN;
        for (ForgeFace face : sources.feed().forges()) {
            if (face.description().id().equals(snapshot.forge())) {
                price = face.settings().gasPricePerKg();
            }
        }
        return SnapshotJson.of(snapshot, sources.feed().now(), price);
    }
}
