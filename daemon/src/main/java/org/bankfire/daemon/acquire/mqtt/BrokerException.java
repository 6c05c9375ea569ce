package org.bankfire.daemon.acquire.mqtt;

import java.net.ConnectException;
import java.net.NoRouteToHostException;
import java.net.SocketTimeoutException;
import java.net.UnknownHostException;
import java.security.cert.CertificateException;
import javax.net.ssl.SSLException;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.jspecify.annotations.Nullable;

/** A connection to a broker that can't be had. The message says why in words. */
public final class BrokerException extends Exception {
    private static final long serialVersionUID = 1L;

    /** Causes nest a few deep; a ring of them must not hold us. */
    private static final int CAUSES_LOOKED_AT = 10;

    /** Can't be had, for a reason found here. */
    public BrokerException(String message) {
        super(message);
    }

    /** Can't be had, for a reason found elsewhere. */
    public BrokerException(String message, Throwable cause) {
        super(message, cause);
    }

    /** Words for what Paho or the network says; never holds a password. */
    public static BrokerException of(MqttSettings settings, Throwable problem) {
        String broker = settings.uri();
        String user = settings.user() == null ? "without a user" : "as user " + settings.user();
        String words = switch (problem instanceof MqttException mqtt ? mqtt.getReasonCode() : -1) {
            case MqttException.REASON_CODE_FAILED_AUTHENTICATION ->
                broker + " refused us " + user + ": wrong user or password";
            case MqttException.REASON_CODE_NOT_AUTHORIZED ->
                broker + " refused us " + user + ": wrong user or password, or not allowed";
            case MqttException.REASON_CODE_INVALID_CLIENT_ID ->
                broker + " refused the client id " + settings.clientId();
            case MqttException.REASON_CODE_BROKER_UNAVAILABLE -> broker + " says that it is unavailable";
            case MqttException.REASON_CODE_CLIENT_TIMEOUT -> broker + " does not answer";
            default -> network(settings, problem);
        };
        return new BrokerException(words, problem);
    }

    private static String network(MqttSettings settings, Throwable problem) {
        String broker = settings.uri();
        if (cause(problem, UnknownHostException.class) != null) {
            return broker + ": no host of this name is known";
        }
        if (cause(problem, ConnectException.class) != null) {
            return broker + ": connection refused; is the broker running?";
        }
        if (cause(problem, NoRouteToHostException.class) != null) {
            return broker + ": no way to this host";
        }
        if (cause(problem, SocketTimeoutException.class) != null) {
            return broker + " does not answer";
        }
        String trusted = settings.caFile() == null
                ? "by the certificates of this Java"
                : "by the certificates in " + settings.caFile();
        Throwable certificate = cause(problem, CertificateException.class);
        if (certificate != null) {
            return broker + ": its certificate is not accepted " + trusted + ": " + certificate.getMessage();
        }
        SSLException tls = cause(problem, SSLException.class);
        if (tls != null) {
            return broker + ": no TLS connection (trusted " + trusted + "): " + tls.getMessage();
        }
        return broker + ": the connection failed: " + root(problem);
    }

    private static <T extends Throwable> @Nullable T cause(Throwable problem, Class<T> kind) {
        Throwable at = problem;
        for (int i = 0; i < CAUSES_LOOKED_AT && at != null; i++) {
            if (kind.isInstance(at)) {
                return kind.cast(at);
            }
            at = at.getCause();
        }
        return null;
    }

    private static Throwable root(Throwable problem) {
        Throwable at = problem;
        for (int i = 0; i < CAUSES_LOOKED_AT; i++) {
            Throwable next = at.getCause();
            if (next == null) {
                break;
            }
            at = next;
        }
        return at;
    }
}
