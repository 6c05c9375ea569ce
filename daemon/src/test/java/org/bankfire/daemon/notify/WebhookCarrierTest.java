package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import com.sun.net.httpserver.HttpsConfigurator;
import com.sun.net.httpserver.HttpsServer;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpConnectTimeoutException;
import java.net.http.HttpTimeoutException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import javax.net.ssl.SSLContext;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.daemon.testbed.Certificates;
import org.bankfire.daemon.testbed.Programs;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A real HTTP server on a socket. */
class WebhookCarrierTest {
    private static final Instant NOW = Instant.parse("2026-03-01T10:00:00Z");

    @TempDir
    Path folder;

    private final List<String> bodies = new CopyOnWriteArrayList<>();
    private final List<String> seenHeaders = new CopyOnWriteArrayList<>();
    private final CountDownLatch release = new CountDownLatch(1);
    private final ExecutorService threads = Executors.newCachedThreadPool();
    private @Nullable HttpServer server;
    private volatile int status = 200;
    private volatile String retryAfter = "";
    private volatile boolean hang;

    @AfterEach
    void stop() {
        release.countDown();
        if (server != null) {
            server.stop(0);
        }
        threads.shutdownNow();
    }

    private URI serve(HttpServer made) {
        server = made;
        made.createContext("/", this::answer);
        made.setExecutor(threads);
        made.start();
        String scheme = made instanceof HttpsServer ? "https" : "http";
        return URI.create(scheme + "://127.0.0.1:" + made.getAddress().getPort() + "/alarms?key=hunter2");
    }

    private URI serve() throws IOException {
        return serve(HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0));
    }

    private void answer(HttpExchange exchange) throws IOException {
        try (exchange;
                InputStream in = exchange.getRequestBody()) {
            bodies.add(new String(in.readAllBytes(), StandardCharsets.UTF_8));
            for (String name : List.of("Content-Type", "Authorization", "X-Room")) {
                seenHeaders.add(name + "=" + exchange.getRequestHeaders().getFirst(name));
            }
            if (hang) {
                boolean released = release.await(180, TimeUnit.SECONDS);
                assertThat(released).isTrue();
            }
            if (!retryAfter.isEmpty()) {
                exchange.getResponseHeaders().set("Retry-After", retryAfter);
            }
            exchange.sendResponseHeaders(status, -1);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static WebhookCarrier carrier(
            @Nullable URI url,
            @Nullable Path urlFile,
            @Nullable Path token,
            @Nullable Path headers,
            @Nullable Path ca) {
        return new WebhookCarrier(
                new OutputConfig.Webhook(Alarms.everything("office"), url, urlFile, token, headers, ca), () -> NOW);
    }

    private static CarryException failure(WebhookCarrier carrier) {
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure).as("it arrived").isNotNull();
        assertThat(failure.words()).doesNotContain("hunter2");
        return failure;
    }

    @ParameterizedTest
    @ValueSource(ints = {200, 201, 202, 204})
    void theObjectArrivesWithItsHeadersAndToken(int good) throws Exception {
        status = good;
        Path token = Files.writeString(folder.resolve("token"), "sesame\n");
        Path headers = Files.writeString(folder.resolve("headers"), "X-Room: forge shop\n\n");
        Path url = Files.writeString(folder.resolve("url"), serve() + "\n");
        String words = carrier(null, url, token, headers, null).carry(Alarms.message());
        assertThat(words).isEqualTo("127.0.0.1 answered " + good + ".");
        assertThat(bodies).containsExactly(Alarms.message().json());
        assertThat(seenHeaders)
                .containsExactly("Content-Type=application/json", "Authorization=Bearer sesame", "X-Room=forge shop");
    }

    @ParameterizedTest
    @CsvSource({
        "500, '', 0",
        "503, 7, 7",
        "429, 30, 30",
        "408, '', 0",
        "429, 'Sun, 01 Mar 2026 10:01:30 GMT', 90",
        "503, soon, 0",
        "503, -4, 0"
    })
    void aServerInTroubleIsTriedAgainWhenItAsks(int bad, String asks, double waitS) throws Exception {
        status = bad;
        retryAfter = asks;
        CarryException failure = failure(carrier(serve(), null, null, null, null));
        assertThat(failure.isLasting()).isFalse();
        assertThat(failure.waitS()).isEqualTo(waitS);
        assertThat(failure.words()).isEqualTo("127.0.0.1 answered " + bad);
    }

    @ParameterizedTest
    @ValueSource(ints = {301, 307, 400, 401, 403, 404, 410, 422})
    void aRefusalIsNotTriedAgain(int bad) throws Exception {
        status = bad;
        CarryException failure = failure(carrier(serve(), null, null, null, null));
        assertThat(failure.isLasting()).isTrue();
        assertThat(failure.words()).contains("answered " + bad);
        assertThat(bodies).hasSize(1);
    }

    @Test
    void aServerThatHangsOrNeverAcceptsHoldsUpForABoundedTime() throws Exception {
        hang = true;
        WebhookCarrier carrier = carrier(serve(), null, null, null, null);
        long begin = System.nanoTime();
        CarryException failure = failure(carrier);
        // Long before the server would have answered.
        assertThat(Duration.ofNanos(System.nanoTime() - begin))
                .isBetween(Duration.ofSeconds(7), Duration.ofSeconds(60));
        assertThat(failure.isLasting()).isFalse();
        hang = false;
        release.countDown();
        assertThat(carrier.carry(Alarms.message())).contains("200");
    }

    /** Both begin at one moment, so that either may be the first to see that it is over. */
    @Test
    void theClientsWatchSaysWhatOursDoes() {
        assertThat(WebhookCarrier.words("lower-tarn.example", new HttpTimeoutException("request timed out")))
                .isEqualTo("lower-tarn.example did not answer within 8 s");
        assertThat(WebhookCarrier.words("lower-tarn.example", new HttpConnectTimeoutException("no connection")))
                .isEqualTo("lower-tarn.example cannot be reached");
    }

    @Test
    void aServerThatIsNotThereOrClosesAtOnceIsNamed() throws Exception {
        URI nobody = URI.create("http://127.0.0.1:" + Programs.freePort() + "/");
        assertThat(failure(carrier(nobody, null, null, null, null)).words())
                .isEqualTo("127.0.0.1: connection refused; is the server running?");
        assertThat(failure(carrier(URI.create("http://forge.invalid/"), null, null, null, null))
                        .words())
                .contains("forge.invalid");
        try (ServerSocket rude = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
            threads.execute(() -> {
                try {
                    while (true) {
                        rude.accept().close();
                    }
                } catch (IOException closed) {
                    return;
                }
            });
            URI url = URI.create("http://127.0.0.1:" + rude.getLocalPort() + "/");
            assertThat(failure(carrier(url, null, null, null, null)).words()).contains("the exchange failed");
        }
    }

    @Test
    void aSecretThatCannotBeReadOrUsedNamesItsFileOnly() throws Exception {
        Path gone = folder.resolve("gone");
        URI url = serve();
        assertThat(failure(carrier(url, null, gone, null, null)).words()).contains(gone + " cannot be read");
        Path empty = Files.createFile(folder.resolve("empty"));
        assertThat(failure(carrier(url, null, empty, null, null)).words()).contains(empty + ": its first line");
        Path bad = Files.writeString(folder.resolve("bad"), "hunter2 \u0001 \n");
        assertThat(failure(carrier(url, null, bad, null, null)).words()).contains("cannot be used");
        assertThat(failure(carrier(url, null, null, bad, null)).words()).contains("not Name: value");
        assertThat(failure(carrier(null, bad, null, null, null)).words()).contains("cannot be used");
        assertThat(bodies).isEmpty();
    }

    @Test
    void tlsIsCheckedAgainstTheCertificatesThatAreTrusted() throws Exception {
        Certificates authority = Certificates.authority(folder, "room");
        SSLContext context = authority.context(authority.server("IP:127.0.0.1"));
        HttpsServer https = HttpsServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        https.setHttpsConfigurator(new HttpsConfigurator(context));
        URI url = serve(https);
        assertThat(carrier(url, null, null, null, authority.caFile()).carry(Alarms.message()))
                .contains("200");
        assertThat(failure(carrier(url, null, null, null, null)).words()).contains("no TLS connection");
        assertThat(bodies).hasSize(1);
    }
}
