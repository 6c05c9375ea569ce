package org.bankfire.daemon.acquire.mqtt;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.util.Collection;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManagerFactory;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.jspecify.annotations.Nullable;

/** Options of a connection. Files are read anew for each, so that a mended one serves without a restart. */
public final class BrokerOptions {
    static final byte[] ONLINE = "online".getBytes(StandardCharsets.UTF_8);
    static final byte[] OFFLINE = "offline".getBytes(StandardCharsets.UTF_8);

    public static final int CONNECT_TIMEOUT_S = 10;

    /** A dead link is noticed, and the last will published, within twice this. */
    private static final int KEEP_ALIVE_S = 15;

    private static final int PASSWORD_CHARACTERS = 65_535; // as long as the protocol can carry

    private BrokerOptions() {}

    /** Options with a session that the broker keeps, and {@code offline} as last will on the status topic. */
    public static MqttConnectOptions of(MqttSettings settings) throws BrokerException {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setMqttVersion(MqttConnectOptions.MQTT_VERSION_3_1_1);
        options.setCleanSession(false);
        options.setAutomaticReconnect(false);
        options.setConnectionTimeout(CONNECT_TIMEOUT_S);
        options.setKeepAliveInterval(KEEP_ALIVE_S);
        options.setWill(settings.statusTopic(), OFFLINE, 1, true);
        String user = settings.user();
        if (user != null) {
            options.setUserName(user);
        }
        Path passwordFile = settings.passwordFile();
        if (passwordFile != null) {
            options.setPassword(password(passwordFile));
        }
        if (settings.uri().startsWith("ssl:")) {
            options.setSocketFactory(sockets(settings.caFile()));
            options.setHttpsHostnameVerificationEnabled(true);
        }
        return options;
    }

    private static char[] password(Path file) throws BrokerException {
        try (BufferedReader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
            String line = reader.readLine();
            if (line == null || line.isEmpty() || line.length() > PASSWORD_CHARACTERS) {
                throw new BrokerException("password file " + file + ": its first line must hold the password, 1 to "
                        + PASSWORD_CHARACTERS + " characters");
            }
            return line.toCharArray();
        } catch (IOException e) {
            throw new BrokerException("password file " + file + " can't be read: " + e, e);
        }
    }

    private static SSLSocketFactory sockets(@Nullable Path caFile) throws BrokerException {
        return caFile == null
                ? (SSLSocketFactory) SSLSocketFactory.getDefault()
                : tls(caFile).getSocketFactory();
    }

    /** TLS that trusts the PEM certificates of a file and no others. */
    public static SSLContext tls(Path caFile) throws BrokerException {
        try (InputStream pem = Files.newInputStream(caFile)) {
            Collection<? extends Certificate> certificates =
                    CertificateFactory.getInstance("X.509").generateCertificates(pem);
            if (certificates.isEmpty()) {
                throw new BrokerException("certificate file " + caFile + " holds no PEM certificate");
            }
            KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
            trusted.load(null, null);
            int number = 0;
            for (Certificate certificate : certificates) {
                trusted.setCertificateEntry("ca" + number++, certificate);
            }
            TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
            trust.init(trusted);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(null, trust.getTrustManagers(), null);
            return context;
        } catch (IOException | GeneralSecurityException e) {
            throw new BrokerException("certificate file " + caFile + " can't be used: " + e, e);
        }
    }
}
