package org.bankfire.dashboard.page;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.GZIPInputStream;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The page's files: complete, small, kept by browsers, never stale. */
class PageAssetsTest {
    // The most that the page may weigh on the wire.
    private static final int MOST_BYTES = 200_000;
    private static final Pattern LINK = Pattern.compile("(?:href|src)=\"(assets/[^\"]+)\"");
    private static final Pattern IMPORT = Pattern.compile("from '(\\.[^']+)'");

    private RunningDashboard dashboard;

    @BeforeEach
    void start() throws IOException {
        dashboard = new RunningDashboard(new ScriptedForge());
    }

    @AfterEach
    void stop() {
        dashboard.close();
    }

    private static Path web() throws Exception {
        return Path.of(Objects.requireNonNull(PageAssetsTest.class.getResource("/web/index.html"))
                        .toURI())
                .resolveSibling("");
    }

    private List<String> linked() throws Exception {
        List<String> links = new ArrayList<>();
        Matcher matcher = LINK.matcher(dashboard.get("/").body());
        while (matcher.find()) {
            links.add(matcher.group(1));
        }
        return links.stream().distinct().toList();
    }

    @Test
    void everyFileOfTheFolderIsServedAndNoOther() throws Exception {
        Path web = web();
        List<String> present;
        try (Stream<Path> files = Files.walk(web)) {
            present = files.filter(Files::isRegularFile)
                    .map(file -> web.relativize(file).toString())
                    .filter(name -> !name.equals("index.html"))
                    .toList();
        }
        assertThat(PageAssets.OWN).containsExactlyInAnyOrderElementsOf(present);
    }

    @Test
    void everyModuleThatThePageBeginsWithIsFetchedInOneGo() throws Exception {
        List<String> links = linked();
        Path js = web().resolve("js");
        Deque<Path> open = new ArrayDeque<>(List.of(js.resolve("main.js")));
        Set<Path> needed = new HashSet<>(open);
        while (!open.isEmpty()) {
            Path module = open.remove();
            String name = "/js/" + js.relativize(module);
            assertThat(links).as(name).anyMatch(link -> link.endsWith(name));
            for (Path imported : imports(module)) {
                if (needed.add(imported)) {
                    open.add(imported);
                }
            }
        }
        assertThat(needed).hasSizeGreaterThan(30);
    }

    @Test
    void everyModuleThatIsImportedIsThere() throws Exception {
        List<Path> modules;
        try (Stream<Path> files = Files.walk(web().resolve("js"))) {
            modules = files.filter(file -> file.toString().endsWith(".js")).toList();
        }
        for (Path module : modules) {
            assertThat(imports(module)).as("imports of %s", module).allMatch(Files::exists);
        }
    }

    private static List<Path> imports(Path module) throws IOException {
        Matcher matcher = IMPORT.matcher(Files.readString(module));
        List<Path> imported = new ArrayList<>();
        while (matcher.find()) {
            imported.add(module.resolveSibling(matcher.group(1)).normalize());
        }
        return imported;
    }

    @Test
    void theWholePageIsLightOnTheWire() throws Exception {
        int total = 0;
        String own = linked().get(0).replaceFirst("(assets/[^/]+/).*", "$1");
        // With what is fetched later, once somebody turns to it.
        Stream<String> later = PageAssets.OWN.stream().map(name -> own + name);
        for (String path : Stream.of(Stream.of(""), linked().stream(), later)
                .flatMap(paths -> paths)
                .distinct()
                .toList()) {
            HttpResponse<byte[]> response = compressed("/" + path);
            assertThat(response.statusCode()).as(path).isEqualTo(200);
            total += response.body().length;
        }
        assertThat(total).isLessThan(MOST_BYTES);
    }

    @Test
    void whatIsCompressedUnpacksToThePlainFile() throws Exception {
        String path = linked().stream()
                .filter(link -> link.endsWith("app.css"))
                .findFirst()
                .orElseThrow();
        HttpResponse<byte[]> response = compressed("/" + path);
        assertThat(response.headers().firstValue("Content-Encoding")).hasValue("gzip");
        byte[] unpacked = new GZIPInputStream(new ByteArrayInputStream(response.body())).readAllBytes();
        assertThat(new String(unpacked, UTF_8)).isEqualTo(Files.readString(web().resolve("app.css")));
        assertThat(dashboard.get("/" + path).body()).isEqualTo(Files.readString(web().resolve("app.css")));
    }

    @Test
    void longAnswersOfTheApiAreCompressed() throws Exception {
        HttpResponse<byte[]> response = compressed("/api/v1/forges/quarry/series?channel=chamber");
        assertThat(response.headers().firstValue("Content-Encoding")).hasValue("gzip");
        byte[] unpacked = new GZIPInputStream(new ByteArrayInputStream(response.body())).readAllBytes();
        assertThat(new String(unpacked, UTF_8))
                .startsWith("{\"forge\":\"quarry\"")
                .endsWith("}");
    }

    private HttpResponse<byte[]> compressed(String path) throws Exception {
        return dashboard
                .client()
                .send(
                        dashboard
                                .request(path)
                                .header("Accept-Encoding", "gzip")
                                .build(),
                        HttpResponse.BodyHandlers.ofByteArray());
    }

    @Test
    void filesAreKeptForGoodAndThePageIsAskedForAgain() throws Exception {
        assertThat(dashboard.get("/" + linked().get(0)).headers().firstValue("Cache-Control"))
                .hasValue("public, max-age=31536000, immutable");
        HttpResponse<String> page = dashboard.get("/");
        assertThat(page.headers().firstValue("Cache-Control")).hasValue("no-cache");
        String etag = page.headers().firstValue("ETag").orElseThrow();
        HttpResponse<String> again = dashboard
                .client()
                .send(
                        dashboard.request("/").header("If-None-Match", etag).build(),
                        HttpResponse.BodyHandlers.ofString());
        assertThat(again.statusCode()).isEqualTo(304);
        assertThat(again.body()).isEmpty();
    }

    @Test
    void anotherVersionOrAPathOutOfTheFolderIsNotServed() throws Exception {
        assertThat(dashboard.get("/assets/0000000000000000/app.css").statusCode())
                .isEqualTo(404);
        String version = linked().get(0).replaceFirst("assets/([^/]+)/.*", "$1");
        assertThat(dashboard.get("/assets/" + version + "/index.html").statusCode())
                .isEqualTo(404);
        assertThat(dashboard
                        .get("/assets/" + version + "/js/..%2f..%2flogback.xml")
                        .statusCode())
                .isIn(400, 404);
    }

    @Test
    void nothingOfThePagePointsOutside() throws Exception {
        try (Stream<Path> files = Files.walk(web())) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                // The name of the SVG vocabulary looks like an address and is never fetched.
                String text = Files.readString(file).replace("http://www.w3.org/2000/svg", "");
                assertThat(text).as(file.toString()).doesNotContain("http://").doesNotContain("https://");
            }
        }
    }
}
