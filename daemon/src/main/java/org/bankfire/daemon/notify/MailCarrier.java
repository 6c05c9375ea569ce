package org.bankfire.daemon.notify;

import jakarta.mail.AuthenticationFailedException;
import jakarta.mail.Message.RecipientType;
import jakarta.mail.MessagingException;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import jakarta.mail.internet.InternetAddress;
import jakarta.mail.internet.MimeMessage;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Date;
import java.util.Properties;
import java.util.function.Supplier;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.daemon.acquire.mqtt.BrokerException;
import org.bankfire.daemon.acquire.mqtt.BrokerOptions;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.daemon.config.OutputConfig.Security;
import org.eclipse.angus.mail.smtp.SMTPAddressFailedException;
import org.eclipse.angus.mail.smtp.SMTPSendFailedException;
import org.eclipse.angus.mail.util.MailConnectException;
import org.jspecify.annotations.Nullable;

/** Sends mail through a mail server (SMTP, RFC 5321), a connection for each. */
final class MailCarrier implements Carrier {
    /** For one answer of the server: under the ten seconds after which a test is answered anyway. */
    private static final String ANSWER_MS = "8000";

    /** A server may lock an account that comes too often with a wrong password. */
    private static final double AFTER_WRONG_PASSWORD_S = 120;

    /** From here on an answer of SMTP is a refusal for good (RFC 5321, 4.2.1). */
    private static final int PERMANENT = 500;

    private final OutputConfig.Mail settings;
    private final Supplier<Instant> now;

    /**
     * A carrier that has not connected yet.
     *
     * @param now date of the mails
     */
    MailCarrier(OutputConfig.Mail settings, Supplier<Instant> now) {
        this.settings = settings;
        this.now = now;
    }

    @Override
    public String carry(Message message) throws CarryException {
        Path passwordFile = settings.passwordFile();
        String password = passwordFile == null ? null : Secrets.firstLine(passwordFile, "password");
        String peer = settings.host() + ":" + settings.port();
        Session session = Session.getInstance(properties());
        try (Transport transport = session.getTransport("smtp")) {
            MimeMessage mail = mail(session, message);
            transport.connect(settings.host(), settings.port(), settings.user(), password);
            transport.sendMessage(mail, mail.getAllRecipients());
            return peer + " took the mail to " + String.join(", ", settings.to()) + ".";
        } catch (AuthenticationFailedException e) {
            throw CarryException.passing(
                    peer + " refused " + (settings.user() == null ? "us without a user" : "user " + settings.user())
                            + ": wrong user or password",
                    AFTER_WRONG_PASSWORD_S);
        } catch (MailConnectException e) {
            throw CarryException.passing(peer + " cannot be reached: " + root(e));
        } catch (MessagingException e) {
            String words = peer + " did not take the mail: " + root(e);
            throw isPermanent(e) ? CarryException.lasting(words) : CarryException.passing(words);
        }
    }

    private MimeMessage mail(Session session, Message message) throws MessagingException {
        MimeMessage mail = new MimeMessage(session);
        mail.setFrom(new InternetAddress(settings.from()));
        for (String to : settings.to()) {
            mail.addRecipient(RecipientType.TO, new InternetAddress(to));
        }
        mail.setSubject(message.subject(), StandardCharsets.UTF_8.name());
        mail.setText(message.text(), StandardCharsets.UTF_8.name());
        mail.setSentDate(Date.from(now.get()));
        // RFC 3834: so that no holiday message answers.
        mail.setHeader("Auto-Submitted", "auto-generated");
        if (message.priority() == Priority.CRITICAL) {
            mail.setHeader("Importance", "high");
        }
        mail.saveChanges();
        return mail;
    }

    private Properties properties() throws CarryException {
        Properties properties = new Properties();
        properties.setProperty("mail.smtp.connectiontimeout", ANSWER_MS);
        properties.setProperty("mail.smtp.timeout", ANSWER_MS);
        properties.setProperty("mail.smtp.writetimeout", ANSWER_MS);
        properties.setProperty("mail.smtp.auth", String.valueOf(settings.user() != null));
        if (settings.security() == Security.NONE) {
            return properties;
        }
        boolean startTls = settings.security() == Security.STARTTLS;
        properties.setProperty("mail.smtp.starttls.enable", String.valueOf(startTls));
        properties.setProperty("mail.smtp.starttls.required", String.valueOf(startTls));
        properties.setProperty("mail.smtp.ssl.enable", String.valueOf(!startTls));
        properties.setProperty("mail.smtp.ssl.checkserveridentity", "true");
        Path caFile = settings.caFile();
        if (caFile != null) {
            try {
                properties.put(
                        "mail.smtp.ssl.socketFactory", BrokerOptions.tls(caFile).getSocketFactory());
            } catch (BrokerException e) {
                throw CarryException.passing(String.valueOf(e.getMessage()));
            }
        }
        return properties;
    }

    /** Whether a mail server said that it will never take this. */
    private static boolean isPermanent(MessagingException problem) {
        for (Exception at = problem; at != null; at = next(at)) {
            if (at instanceof SMTPSendFailedException sending && sending.getReturnCode() >= PERMANENT) {
                return true;
            }
            if (at instanceof SMTPAddressFailedException address && address.getReturnCode() >= PERMANENT) {
                return true;
            }
        }
        return false;
    }

    private static @Nullable Exception next(Exception at) {
        return at instanceof MessagingException messaging ? messaging.getNextException() : null;
    }

    private static String root(MessagingException problem) {
        Exception at = problem;
        for (Exception next = next(at); next != null; next = next(at)) {
            at = next;
        }
        return String.valueOf(at.getMessage()).strip().replaceAll("\\s+", " ");
    }
}
