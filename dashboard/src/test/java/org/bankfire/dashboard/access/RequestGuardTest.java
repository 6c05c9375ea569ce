package org.bankfire.dashboard.access;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import org.bankfire.dashboard.DashboardSettings;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Strangers' pages neither read nor write. */
class RequestGuardTest {
    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;

    @BeforeEach
    void start() throws IOException {
        dashboard = new RunningDashboard(forge);
    }

    @AfterEach
    void stop() {
        dashboard.close();
    }

    @ParameterizedTest
    @CsvSource({
        "localhost, 200",
        "LOCALHOST:8440, 200",
        "127.0.0.1:1, 200",
        "127.9.9.9, 200",
        "[::1]:8440, 200",
        "forge.example, 403",
        "localhost.example:8440, 403",
        "127.0.0.1.example, 403",
        "127.0.0.1.nip.io, 403",
        "192.168.1.20, 403",
        "[::2], 403",
    })
    void onlyNamesOfThisMachineAreAnswered(String host, int status) throws Exception {
        assertThat(statusFor("GET /api/v1/forges HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n"))
                .isEqualTo(status);
    }

    @Test
    void thePageAndTheStreamAreGuardedToo() throws Exception {
        String stranger = " HTTP/1.1\r\nHost: forge.example\r\nConnection: close\r\n\r\n";
        assertThat(statusFor("GET /" + stranger)).isEqualTo(403);
        assertThat(statusFor("GET /api/v1/live" + stranger)).isEqualTo(403);
        assertThat(statusFor("GET /health" + stranger)).isEqualTo(403);
    }

    private int statusFor(String request) throws IOException {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), dashboard.port())) {
            socket.setSoTimeout(60_000);
            socket.getOutputStream().write(request.getBytes(US_ASCII));
            String answer = new String(socket.getInputStream().readAllBytes(), US_ASCII);
            return Integer.parseInt(answer.substring("HTTP/1.1 ".length(), "HTTP/1.1 200".length()));
        }
    }

    @ParameterizedTest
    @CsvSource({
        "Origin, http://forge.example, 403",
        "Origin, null, 403",
        "Origin, http://127.0.0.1:1, 403",
        "Sec-Fetch-Site, cross-site, 403",
        "Sec-Fetch-Site, same-site, 403",
        "Sec-Fetch-Site, same-origin, 201",
        "Accept, */*, 201",
    })
    void onlyThePagesOfThisServerWrite(String header, String value, int status) throws Exception {
        assertThat(post(header, value, "application/json").statusCode()).isEqualTo(status);
        assertThat(forge.notes()).hasSize(status == 201 ? 1 : 0);
    }

    @Test
    void theServersOwnOriginWrites() throws Exception {
        assertThat(post("Origin", dashboard.url(""), "application/json").statusCode())
                .isEqualTo(201);
    }

    @Test
    void aFormOfAStrangerIsNoJson() throws Exception {
        assertThat(post("Accept", "*/*", "text/plain").statusCode()).isEqualTo(415);
        assertThat(forge.notes()).isEmpty();
    }

    private HttpResponse<String> post(String header, String value, String type) throws Exception {
        HttpRequest request = dashboard
                .request("/api/v1/forges/quarry/notes")
                .header(header, value)
                .header("Content-Type", type)
                .POST(HttpRequest.BodyPublishers.ofString("{\"text\":\"x\"}"))
                .build();
        return dashboard.client().send(request, HttpResponse.BodyHandlers.ofString());
    }

    @ParameterizedTest
    @ValueSource(strings = {"/", "/api/v1/forges", "/nothing"})
    void everyAnswerKeepsThePageToThisServer(String path) throws Exception {
        HttpResponse<String> response = dashboard.get(path);
        assertThat(response.headers().firstValue("Content-Security-Policy"))
                .hasValue(RequestGuard.CONTENT_SECURITY_POLICY);
        assertThat(RequestGuard.CONTENT_SECURITY_POLICY)
                .startsWith("default-src 'self';")
                .doesNotContain("unsafe");
        assertThat(response.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
        assertThat(response.headers().firstValue("Server")).isEmpty();
    }

    @Test
    void theApiIsNotCached() throws Exception {
        assertThat(dashboard.get("/api/v1/forges").headers().firstValue("Cache-Control"))
                .hasValue("no-store");
    }

    @ParameterizedTest
    @ValueSource(strings = {"0.0.0.0", "::", "192.168.1.20", ""})
    void anAddressThatOthersReachNeedsAccessRules(String host) {
        assertThatThrownBy(() -> new DashboardSettings(host, 8440))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("[access]")
                .hasMessageContaining("\"" + host + "\"");
    }

    @Test
    void aPortThatIsTakenIsSaid() {
        assertThatThrownBy(() -> new RunningDashboard(forge, dashboard.port()))
                .isInstanceOf(IOException.class)
                .hasMessageContaining("127.0.0.1:" + dashboard.port());
    }
}
