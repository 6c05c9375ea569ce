package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.junit.jupiter.api.Test;

/** A burn that runs through the whole daemon is fitted while it burns, and again when it has ended, and shown. */
final class DemoFitIT {
    private static final Duration PATIENCE = Duration.ofMinutes(4);
    private static final ObjectMapper JSON = new ObjectMapper();

    private final HttpClient http = HttpClient.newHttpClient();

    private HttpResponse<String> get(DaemonProcess demo, String path) throws Exception {
        return http.send(
                HttpRequest.newBuilder(URI.create(demo.page() + path)).build(), HttpResponse.BodyHandlers.ofString());
    }

    private JsonNode json(DaemonProcess demo, String path) throws Exception {
        HttpResponse<String> answer = get(demo, path);
        assertThat(answer.statusCode()).as(path + " " + answer.body()).isEqualTo(200);
        return JSON.readTree(answer.body());
    }

    private void theFirstBurnIsReportedAndTakenAway(DaemonProcess demo) throws Exception {
        JsonNode burns = json(demo, "api/v1/forges/demo/burns").get("burns");
        String burn = "api/v1/burns/" + burns.get(burns.size() - 1).get("id").textValue();
        assertThat(get(demo, burn + "/report?zone=Europe%2FOslo").body())
                .contains("What this burn tells of the forge", "by the fit");
        HttpResponse<byte[]> pdf = http.send(
                HttpRequest.newBuilder(URI.create(demo.page() + burn + "/report.pdf"))
                        .build(),
                HttpResponse.BodyHandlers.ofByteArray());
        assertThat(pdf.statusCode()).isEqualTo(200);
        assertThat(pdf.body()).startsWith("%PDF-".getBytes(StandardCharsets.US_ASCII));
        assertThat(get(demo, burn + "/export").body().lines())
                .startsWith("time,forge,channel,value,unit,quality")
                .hasSizeGreaterThan(100);
        assertThat(get(demo, burn + "/export?format=senml").body()).startsWith("[{\"bn\":\"demo:\"");
        for (String path : new String[] {"report", "report.pdf", "export"}) {
            assertThat(get(demo, "api/v1/burns/demo-20200101T000000Z/" + path).statusCode())
                    .as(path)
                    .isEqualTo(404);
        }
    }

    @Test
    void theDemosBurnIsFittedWhileItBurnsAndKeptWhenItHasEnded() throws Exception {
        // Two hundred times faster: a burn of the script is over in 20 s.
        try (DaemonProcess demo = DaemonProcess.start("demo", "--port", "0", "--speed", "200")) {
            demo.page();
            assertThat(get(demo, "api/v1/burns/demo-20200101T000000Z/fit").statusCode())
                    .isEqualTo(404);
            await().atMost(PATIENCE).untilAsserted(() -> {
                JsonNode running = json(demo, "api/v1/forges/demo/fit");
                assertThat(running.get("forge").textValue()).isEqualTo("demo");
                assertThat(running.get("samples").longValue()).isPositive();
            });
            await().atMost(PATIENCE).untilAsserted(() -> {
                JsonNode burns = json(demo, "api/v1/forges/demo/burns").get("burns");
                assertThat(burns).isNotEmpty();
                JsonNode first = burns.get(burns.size() - 1);
                assertThat(first.get("end").isNull()).isFalse();
                JsonNode fit = json(demo, "api/v1/burns/" + first.get("id").textValue() + "/fit");
                assertThat(fit.get("start").textValue())
                        .isEqualTo(first.get("start").textValue());
                assertThat(fit.get("end").textValue())
                        .as("the cool-down is in it")
                        .isGreaterThan(first.get("end").textValue());
            });
            theFirstBurnIsReportedAndTakenAway(demo);
            assertThat(json(demo, "api/v1/forges/demo/lining")
                            .at("/trend/lossUp")
                            .booleanValue())
                    .isFalse();
            demo.stop();
        }
    }
}
