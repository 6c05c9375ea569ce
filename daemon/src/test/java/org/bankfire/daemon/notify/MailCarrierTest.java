package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.Message.RecipientType;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import javax.net.ssl.SSLContext;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.daemon.config.OutputConfig.Security;
import org.bankfire.daemon.testbed.Certificates;
import org.bankfire.daemon.testbed.Programs;
import org.bankfire.daemon.testbed.StartTlsGate;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real mail server on sockets. */
class MailCarrierTest {
    private static final Instant NOW = Instant.parse("2026-03-01T10:00:00Z");

    @TempDir
    Path folder;

    private int port;
    private @Nullable GreenMail server;

    @BeforeEach
    void port() throws IOException {
        port = Programs.freePort();
    }

    @AfterEach
    void stop() {
        if (server != null) {
            server.stop();
        }
    }

    private GreenMail serve(String protocol) {
        ServerSetup setup = new ServerSetup(port, "127.0.0.1", protocol);
        setup.setServerStartupTimeout(60_000);
        GreenMail made = new GreenMail(setup);
        made.start();
        server = made;
        return made;
    }

    private MailCarrier carrier(Security security, @Nullable String user, @Nullable Path password, @Nullable Path ca) {
        return new MailCarrier(
                new OutputConfig.Mail(
                        Alarms.everything("teachers"),
                        "127.0.0.1",
                        port,
                        security,
                        user,
                        password,
                        "forge@lower-tarn.example",
                        List.of("ada@lower-tarn.example", "ole@lower-tarn.example"),
                        ca),
                () -> NOW);
    }

    private static CarryException failure(MailCarrier carrier) {
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure).as("it arrived").isNotNull();
        assertThat(failure.words()).doesNotContain("hunter2");
        return failure;
    }

    @Test
    void theMailSaysWhatIsWrongInItsSubjectAndWhatToDoFirstOnTop() throws Exception {
        GreenMail mail = serve(ServerSetup.PROTOCOL_SMTP);
        String words = carrier(Security.NONE, null, null, null).carry(Alarms.message());
        assertThat(words).contains("took the mail to ada@lower-tarn.example, ole@lower-tarn.example");
        MimeMessage[] received = mail.getReceivedMessages();
        assertThat(received).hasSize(2);
        MimeMessage one = received[0];
        assertThat(one.getSubject()).isEqualTo("Shed forge: Flame out");
        assertThat(one.getFrom()[0]).hasToString("forge@lower-tarn.example");
        assertThat(one.getRecipients(RecipientType.TO)).hasSize(2);
        assertThat(one.getSentDate().toInstant()).isEqualTo(NOW);
        assertThat(one.getHeader("Importance")).containsExactly("high");
        assertThat(one.getHeader("Auto-Submitted")).containsExactly("auto-generated");
        String text = one.getContent().toString().replace("\r\n", "\n");
        assertThat(text.strip()).isEqualTo(Alarms.message().text().strip());
        assertThat(text).contains("Do first: Close the gas at the cylinder.").contains("1103 °C");
    }

    @Test
    void aServerThatWantsAPasswordGetsItFromTheFile() throws Exception {
        GreenMail mail = serve(ServerSetup.PROTOCOL_SMTP);
        mail.setUser("forge@lower-tarn.example", "forge", "hunter2");
        mail.getUserManager().setAuthRequired(true);
        Path right = Files.writeString(folder.resolve("right"), "hunter2\n");
        assertThat(carrier(Security.NONE, "forge", right, null).carry(Alarms.message()))
                .contains("took the mail");
        Path wrong = Files.writeString(folder.resolve("wrong"), "hunter3\n");
        CarryException refused = failure(carrier(Security.NONE, "forge", wrong, null));
        assertThat(refused.words()).contains("refused user forge: wrong user or password");
        assertThat(refused.isLasting()).isFalse();
        assertThat(refused.waitS()).as("so that the account is not locked").isGreaterThanOrEqualTo(60);
        assertThat(failure(carrier(Security.NONE, "forge", folder.resolve("gone"), null))
                        .words())
                .contains("gone cannot be read");
        assertThat(mail.getReceivedMessages()).hasSize(2);
    }

    @Test
    void aServerWithoutTlsIsNotTrustedWithAnything() throws Exception {
        GreenMail mail = serve(ServerSetup.PROTOCOL_SMTP);
        Path password = Files.writeString(folder.resolve("password"), "hunter2\n");
        assertThat(failure(carrier(Security.STARTTLS, "forge", password, null)).words())
                .containsIgnoringCase("STARTTLS");
        assertThat(mail.getReceivedMessages()).isEmpty();
    }

    @Test
    void nothingIsSaidInTheOpenBeforeStartTlsAndTheCertificateIsChecked() throws Exception {
        Certificates authority = Certificates.authority(folder, "room");
        SSLContext context = authority.context(authority.server("IP:127.0.0.1"));
        GreenMail mail = serve(ServerSetup.PROTOCOL_SMTP);
        mail.setUser("forge@lower-tarn.example", "forge", "hunter2");
        mail.getUserManager().setAuthRequired(true);
        Path password = Files.writeString(folder.resolve("password"), "hunter2\n");
        try (StartTlsGate gate = new StartTlsGate(context, port)) {
            port = gate.port();
            assertThat(carrier(Security.STARTTLS, "forge", password, authority.caFile())
                            .carry(Alarms.message()))
                    .contains("took the mail");
            assertThat(mail.getReceivedMessages()).hasSize(2);
            assertThat(gate.openCommands()).allMatch(command -> command.startsWith("EHLO"));
            // Trusted by nobody that Java knows.
            assertThat(failure(carrier(Security.STARTTLS, "forge", password, null))
                            .isLasting())
                    .isFalse();
            assertThat(failure(carrier(Security.TLS, "forge", password, authority.caFile()))
                            .isLasting())
                    .isFalse();
            assertThat(mail.getReceivedMessages()).hasSize(2);
        }
    }

    @Test
    void aServerThatIsDownIsNamedAndWhenItIsUpAgainTheMailArrives() throws Exception {
        MailCarrier carrier = carrier(Security.NONE, null, null, null);
        CarryException refused = failure(carrier);
        assertThat(refused.words()).contains("127.0.0.1:" + port + " cannot be reached");
        assertThat(refused.isLasting()).isFalse();
        GreenMail mail = serve(ServerSetup.PROTOCOL_SMTP);
        assertThat(carrier.carry(Alarms.message())).contains("took the mail");
        assertThat(mail.getReceivedMessages()).hasSize(2);
    }

    @Test
    void aServerThatNeverAnswersHoldsUpForABoundedTime() throws Exception {
        try (ServerSocket silent = new ServerSocket(port, 5, InetAddress.getLoopbackAddress())) {
            assertThat(silent.isBound()).isTrue();
            long begin = System.nanoTime();
            CarryException failure = failure(carrier(Security.NONE, null, null, null));
            // It would never answer.
            assertThat(Duration.ofNanos(System.nanoTime() - begin))
                    .isBetween(Duration.ofSeconds(7), Duration.ofSeconds(60));
            assertThat(failure.isLasting()).isFalse();
        }
    }
}
