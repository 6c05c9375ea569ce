package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import com.sun.net.httpserver.HttpServer;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.bankfire.daemon.testbed.BrokerListener;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.FeederProcess;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.bankfire.daemon.testbed.Programs;
import org.bankfire.daemon.testbed.PtyPair;
import org.bankfire.daemon.testbed.StoodStill;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A flame goes out at the end of a pty; every output tells it, while two others hang. */
final class OutputsIT {
    private static final Duration PATIENCE = Duration.ofMinutes(2);

    private static final Duration SOON = Duration.ofSeconds(2);
    private static final String FLAME_OUT = "\"alarm\":\"flame-out\",\"state\":\"unacknowledged\"";

    @TempDir
    Path folder;

    private final List<String> posted = new CopyOnWriteArrayList<>();
    private final CountDownLatch release = new CountDownLatch(1);
    private final ExecutorService threads = Executors.newCachedThreadPool();
    private final HttpClient client = HttpClient.newHttpClient();
    private HttpServer web;
    private GreenMail mail;
    private MosquittoProcess broker;

    @BeforeEach
    void peers() throws IOException {
        web = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        web.setExecutor(threads);
        web.createContext("/good", exchange -> {
            try (exchange;
                    InputStream in = exchange.getRequestBody()) {
                posted.add(new String(in.readAllBytes(), StandardCharsets.UTF_8));
                exchange.sendResponseHeaders(204, -1);
            }
        });
        web.createContext("/hangs", exchange -> {
            try (exchange) {
                release.await(5, TimeUnit.MINUTES);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        });
        web.start();
        mail = new GreenMail(new ServerSetup(Programs.freePort(), "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        mail.start();
        broker = new MosquittoProcess(Files.createDirectory(folder.resolve("broker")));
        broker.start();
    }

    @AfterEach
    void stop() {
        release.countDown();
        web.stop(0);
        threads.shutdownNow();
        mail.stop();
        broker.close();
    }

    private Path script(String name, String text) throws IOException {
        Path file = Files.writeString(folder.resolve(name), "#!/bin/sh\n" + text);
        assertThat(file.toFile().setExecutable(true)).isTrue();
        return file;
    }

    private Path config(PtyPair line, Path told) throws IOException {
        Path own = script("own.sh", "cat >> " + told + "\n");
        Path hangs = script("hangs.sh", "sleep 200\n");
        String address = "http://127.0.0.1:" + web.getAddress().getPort();
        return ForgeConfigFile.write(folder, """
                kind = "serial"
                port = "%s"

                [[output]]
                kind = "command"
                name = "hanging-command"
                program = "%s"
                timeout = "150 s"

                [[output]]
                kind = "webhook"
                name = "hanging-webhook"
                url = "%s/hangs"

                [[output]]
                kind = "mqtt"
                broker = "%s"
                heartbeat = "1 s"

                [[output]]
                kind = "webhook"
                url = "%s/good"

                [[output]]
                kind = "mail"
                host = "127.0.0.1"
                port = %d
                security = "none"
                from = "forge@lower-tarn.example"
                to = ["ada@lower-tarn.example"]

                [[output]]
                kind = "command"
                program = "%s"
                """.formatted(
                        line.device(),
                        hangs,
                        address,
                        broker.uri(),
                        address,
                        mail.getSmtp().getPort(),
                        own));
    }

    private JsonNode ask(String page, String path, String method) throws IOException, InterruptedException {
        HttpRequest request = HttpRequest.newBuilder(URI.create(page).resolve(path))
                .timeout(PATIENCE)
                .method(method, HttpRequest.BodyPublishers.noBody())
                .build();
        HttpResponse<String> answer = client.send(request, HttpResponse.BodyHandlers.ofString());
        return new ObjectMapper().readTree(answer.body());
    }

    private JsonNode output(String page, String name) throws IOException, InterruptedException {
        for (JsonNode output : ask(page, "/api/v1/outputs", "GET").get("outputs")) {
            if (output.get("name").textValue().equals(name)) {
                return output;
            }
        }
        throw new AssertionError("no output " + name);
    }

    private long stored(String page) throws IOException, InterruptedException {
        return ask(page, "/health", "GET").get("readingsStored").longValue();
    }

    private static FeederProcess burning(PtyPair line) throws IOException {
        return FeederProcess.start(
                "--out", line.far().toString(), "--forge", "shed", "--rate", "10", "--burning", "--start-at", "1050");
    }

    private static long count(List<String> texts, String part) {
        return texts.stream().filter(text -> text.contains(part)).count();
    }

    @Test
    void everyOutputTellsAFlameOutWithinTwoSecondsWhileOthersHang() throws Exception {
        Path told = Files.createFile(folder.resolve("told"));
        try (PtyPair line = new PtyPair(folder);
                BrokerListener listener = new BrokerListener(broker.uri(), "listener", "bankfire/#")) {
            Path config = config(line, told);
            try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString());
                    FeederProcess feeder = burning(line)) {
                String page = daemon.page();
                await().atMost(PATIENCE)
                        .until(() -> daemon.output().stream().anyMatch(event -> event.contains("\"state\":\"lit\"")));
                await().atMost(PATIENCE)
                        .until(() -> listener.latest("bankfire/forge/shed/state")
                                .orElse("")
                                .contains("\"flame\":\"burning\""));
                testButtons(page, told, listener);

                feeder.act("put-out-the-flame");
                await().atMost(PATIENCE)
                        .pollInterval(Duration.ofMillis(20))
                        .until(() -> count(daemon.output(), FLAME_OUT) > 0);
                everyOutputTellsItSoon(told, listener);
                await().atMost(PATIENCE)
                        .untilAsserted(() -> assertThat(listener.latest("bankfire/forge/shed/state")
                                        .orElse(""))
                                .contains("\"flame\":\"out\"")
                                .contains("\"alarm\":\"flame-out\""));

                // The two that hang hold up neither the record nor the heart.
                await().atMost(PATIENCE)
                        .until(() ->
                                output(page, "hanging-command").get("waiting").longValue() > 0);
                long before = stored(page);
                await().atMost(PATIENCE).until(() -> stored(page) > before);
                int beats = listener.on("bankfire/daemon/heartbeat").size();
                await().atMost(PATIENCE)
                        .until(() -> listener.on("bankfire/daemon/heartbeat").size() > beats + 1);
                daemon.kill();
            }
            // The broker speaks the last will of a daemon that was killed.
            await().atMost(PATIENCE)
                    .until(() ->
                            listener.latest("bankfire/daemon/status").orElse("").equals("lost"));
            standingAlarmIsToldAgain(config, line, listener);
        }
    }

    /** Called as soon as the event is on standard output. */
    private void everyOutputTellsItSoon(Path told, BrokerListener listener) {
        try (StoodStill machine = new StoodStill()) {
            long begin = System.nanoTime();
            await().atMost(PATIENCE)
                    .pollInterval(Duration.ofMillis(20))
                    .until(() -> count(posted, FLAME_OUT) > 0
                            && Files.readString(told).contains(FLAME_OUT)
                            && mails("Shed forge: Flame out") > 0
                            && listener.on("bankfire/forge/shed/event").stream()
                                    .anyMatch(heard -> heard.text().contains("flame-out")));
            Duration took = Duration.ofNanos(System.nanoTime() - begin);
            Duration stood = Duration.ofNanos(machine.nanos());
            System.out.println("all four outputs told it " + took.toMillis()
                    + " ms after the event; the machine stood still" + " for " + stood.toMillis() + " ms of that");
            assertThat(took.minus(stood)).isLessThan(SOON);
        }
    }

    /** How many mails came with that subject: a machine that stands still for seconds has others told, of no data. */
    private long mails(String subject) throws MessagingException {
        long count = 0;
        for (MimeMessage message : mail.getReceivedMessages()) {
            count += subject.equals(message.getSubject()) ? 1 : 0;
        }
        return count;
    }

    private void testButtons(String page, Path told, BrokerListener listener) throws Exception {
        for (String name : List.of("mqtt", "webhook", "mail", "command")) {
            JsonNode tested = ask(page, "/api/v1/outputs/" + name + "/test", "POST");
            assertThat(tested.get("done").booleanValue())
                    .as("%s: %s", name, tested)
                    .isTrue();
            assertThat(output(page, name).get("sent").longValue()).as(name).isPositive();
        }
        assertThat(count(posted, "\"kind\":\"test\"")).isEqualTo(1);
        assertThat(Files.readString(told)).contains("\"kind\":\"test\"");
        assertThat(mails("Bankfire: test of the output mail")).isEqualTo(1);
        await().atMost(PATIENCE)
                .until(() -> listener.latest("bankfire/daemon/test").isPresent());
        // When there was something to tell before, the first test may have to wait for that too long.
        await().atMost(PATIENCE).untilAsserted(() -> {
            JsonNode hanging = ask(page, "/api/v1/outputs/hanging-webhook/test", "POST");
            assertThat(hanging.get("done").booleanValue()).isFalse();
            assertThat(hanging.get("words").textValue()).contains("did not answer within 8 s");
        });
        assertThat(output(page, "hanging-webhook").get("state").textValue()).isEqualTo("failing");
    }

    private boolean saysSinceThen(int mails, String words) throws MessagingException, IOException {
        MimeMessage[] all = mail.getReceivedMessages();
        for (int i = mails; i < all.length; i++) {
            if (all[i].getContent().toString().contains(words)) {
                return true;
            }
        }
        return false;
    }

    /** Nobody knows whether it was told before the daemon died. */
    private void standingAlarmIsToldAgain(Path config, PtyPair line, BrokerListener listener) throws Exception {
        int mails = mail.getReceivedMessages().length;
        try (DaemonProcess again = DaemonProcess.start("run", "--config", config.toString());
                FeederProcess feeder = burning(line)) {
            await().atMost(PATIENCE)
                    .until(() -> saysSinceThen(mails, "It stood like this before the daemon was started again."));
            await().atMost(PATIENCE)
                    .until(() ->
                            listener.latest("bankfire/daemon/status").orElse("").equals("online"));
            // Before it serves its page a daemon is not far enough to stop in order.
            assertThat(again.page()).startsWith("http://127.0.0.1:");
            feeder.quit();
            again.stop();
        }
        await().atMost(PATIENCE)
                .until(() ->
                        listener.latest("bankfire/daemon/status").orElse("").equals("offline"));
    }
}
