package org.bankfire.dashboard.page;

import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.Deflater;
import java.util.zip.GZIPOutputStream;
import org.bankfire.dashboard.api.ApiException;
import org.jspecify.annotations.Nullable;

/**
 * The files of the page. Their address holds a hash of all of them, so a browser keeps them for good and still gets new
 * ones after an update; only the page itself is asked for again each time.
 */
public final class PageAssets {
    /** Files under {@code web/}; a test holds this list to the folder. */
    static final List<String> OWN = List.of(
            "alarms.css",
            "app.css",
            "burns.css",
            "fleet.css",
            "icon.svg",
            "trials.css",
            "js/main.js",
            "js/alarms/advice.js",
            "js/alarms/blind.js",
            "js/alarms/hands.js",
            "js/alarms/names.js",
            "js/alarms/kept.js",
            "js/alarms/outputs.js",
            "js/alarms/rhythm.js",
            "js/alarms/screen.js",
            "js/alarms/shapes.js",
            "js/alarms/sound.js",
            "js/alarms/sound-controls.js",
            "js/alarms/strip.js",
            "js/burns/compare.js",
            "js/burns/curve.js",
            "js/burns/lining.js",
            "js/burns/list.js",
            "js/burns/one.js",
            "js/burns/paper.js",
            "js/burns/parameters.js",
            "js/burns/screen.js",
            "js/burns/spent.js",
            "js/burns/words.js",
            "js/cautions/cautions.js",
            "js/chart/burn-chart.js",
            "js/chart/ink.js",
            "js/chart/series.js",
            "js/demo/demo.js",
            "js/fleet/door.js",
            "js/fleet/row.js",
            "js/fleet/screen.js",
            "js/fleet/words.js",
            "js/forges/chooser.js",
            "js/live/stream.js",
            "js/live/tick.js",
            "js/live/watch.js",
            "js/log/editor.js",
            "js/log/log.js",
            "js/log/row.js",
            "js/log/settings.js",
            "js/log/words.js",
            "js/now/expected.js",
            "js/now/figures.js",
            "js/now/glow.js",
            "js/now/heat.js",
            "js/now/ledger.js",
            "js/now/outlook-details.js",
            "js/now/outlook-words.js",
            "js/now/outlook.js",
            "js/now/quiet.js",
            "js/server/api.js",
            "js/server/types.js",
            "js/trials/choose.js",
            "js/trials/evidence.js",
            "js/trials/next.js",
            "js/trials/overlay.js",
            "js/trials/screen.js",
            "js/trials/table.js",
            "js/trials/words.js",
            "js/units/units.js",
            "js/wake/wake.js",
            "js/what-if/curves.js",
            "js/what-if/door.js",
            "js/what-if/form.js",
            "js/what-if/result.js",
            "js/what-if/screen.js",
            "what-if.css",
            "js/page/dom.js",
            "js/page/press.js",
            "js/page/screens.js");

    private static final String INDEX = "index.html";
    private static final String UPLOT = "/META-INF/resources/webjars/uplot/1.6.30/dist/";
    private static final List<String> CHART = List.of("uPlot.iife.min.js", "uPlot.min.css");
    private static final String FOREVER = "public, max-age=31536000, immutable";
    // Below one packet compression gains nothing.
    private static final int LEAST_TO_COMPRESS = 1_400;

    private final Map<String, Asset> assets = new LinkedHashMap<>();
    private final Asset index;
    private final String version;

    /** Reads all of them, some 200 kB. */
    public PageAssets() {
        MessageDigest digest = sha256();
        for (String name : OWN) {
            assets.put(name, new Asset(typeOf(name), read("/web/" + name)));
        }
        for (String name : CHART) {
            assets.put("chart/" + name, new Asset(typeOf(name), read(UPLOT + name)));
        }
        assets.forEach((name, asset) -> {
            digest.update(name.getBytes(StandardCharsets.UTF_8));
            digest.update(asset.plain);
        });
        version = HexFormat.of().formatHex(digest.digest(), 0, 8);
        String html = new String(read("/web/" + INDEX), StandardCharsets.UTF_8).replace("{version}", version);
        index = new Asset("text/html; charset=utf-8", html.getBytes(StandardCharsets.UTF_8));
    }

    /** Serves the page. */
    public void index(Context ctx) {
        String etag = "\"" + HexFormat.of().formatHex(sha256().digest(index.plain), 0, 8) + "\"";
        ctx.header("Cache-Control", "no-cache");
        ctx.header("ETag", etag);
        if (etag.equals(ctx.header("If-None-Match"))) {
            ctx.status(304);
            return;
        }
        index.send(ctx);
    }

    /** Serves one of its files, at {@code /assets/{version}/<name>}. */
    public void asset(Context ctx) {
        String name = ctx.pathParam("name");
        Asset asset = assets.get(name);
        if (asset == null || !version.equals(ctx.pathParam("version"))) {
            throw new ApiException(404, "nothing is served at " + ctx.path());
        }
        ctx.header("Cache-Control", FOREVER);
        asset.send(ctx);
    }

    private static String typeOf(String name) {
        String suffix = name.substring(name.lastIndexOf('.') + 1);
        return switch (suffix) {
            case "js" -> "text/javascript; charset=utf-8";
            case "css" -> "text/css; charset=utf-8";
            case "svg" -> "image/svg+xml";
            default -> throw new IllegalStateException("no media type for " + name);
        };
    }

    private static byte[] read(String path) {
        try (InputStream stream = PageAssets.class.getResourceAsStream(path)) {
            if (stream == null) {
                throw new IllegalStateException("the page's file " + path + " is not on the class path");
            }
            return stream.readAllBytes();
        } catch (IOException e) {
            throw new UncheckedIOException(path, e);
        }
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    /** One file, compressed when it is first asked for. */
    private static final class Asset {
        private final String type;
        private final byte[] plain;
        private volatile byte @Nullable [] compressed;

        private Asset(String type, byte[] plain) {
            this.type = type;
            this.plain = plain;
        }

        private void send(Context ctx) {
            ctx.contentType(type);
            ctx.header("Vary", "Accept-Encoding");
            String accepted = ctx.header("Accept-Encoding");
            if (plain.length >= LEAST_TO_COMPRESS && accepted != null && accepted.contains("gzip")) {
                ctx.header("Content-Encoding", "gzip");
                ctx.result(compressed());
            } else {
                ctx.result(plain);
            }
        }

        private byte[] compressed() {
            byte[] ready = compressed;
            if (ready == null) {
                ready = compress();
                compressed = ready;
            }
            return ready;
        }

        private byte[] compress() {
            ByteArrayOutputStream bytes = new ByteArrayOutputStream(plain.length / 2);
            try (GZIPOutputStream gzip = new GZIPOutputStream(bytes) {
                {
                    def.setLevel(Deflater.BEST_COMPRESSION);
                }
            }) {
                gzip.write(plain);
            } catch (IOException e) {
                throw new UncheckedIOException("compressing in memory", e);
            }
            return bytes.toByteArray();
        }
    }
}
