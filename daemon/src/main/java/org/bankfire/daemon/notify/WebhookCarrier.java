package org.bankfire.daemon.notify;

import java.net.ConnectException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpConnectTimeoutException;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpTimeoutException;
import java.nio.channels.UnresolvedAddressException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
import javax.net.ssl.SSLException;
import org.bankfire.daemon.acquire.mqtt.BrokerException;
import org.bankfire.daemon.acquire.mqtt.BrokerOptions;
import org.bankfire.daemon.config.OutputConfig;
import org.jspecify.annotations.Nullable;

/**
 * Posts the JSON object to a web address. Any 2xx answer is arrival; 408, 429 and 5xx are tried again, after the time
 * that {@code Retry-After} asks for (RFC 9110, 10.2.3); every other answer is a refusal that would not change.
 */
final class WebhookCarrier implements Carrier {
    /** Of a whole exchange: under the ten seconds after which a test is answered anyway. */
    static final long EXCHANGE_MS = 8_000;

    private static final Duration CONNECT = Duration.ofSeconds(5);
    private static final int REQUEST_TIMEOUT = 408;
    private static final int TOO_MANY_REQUESTS = 429;

    private final OutputConfig.Webhook settings;
    private final Supplier<Instant> now;
    private @Nullable HttpClient client;

    /**
     * A carrier that has not connected yet.
     *
     * @param now for answers that name a time of day
     */
    WebhookCarrier(OutputConfig.Webhook settings, Supplier<Instant> now) {
        this.settings = settings;
        this.now = now;
    }

    @Override
    public String carry(Message message) throws CarryException, InterruptedException {
        HttpRequest request = request(message);
        // Only the host: path and query may hold a secret.
        String peer = request.uri().getHost();
        CompletableFuture<HttpResponse<Void>> exchange =
                client().sendAsync(request, HttpResponse.BodyHandlers.discarding());
        try {
            return judge(exchange.get(EXCHANGE_MS, TimeUnit.MILLISECONDS), peer);
        } catch (TimeoutException e) {
            throw CarryException.passing(late(peer));
        } catch (ExecutionException e) {
            throw CarryException.passing(words(peer, e.getCause() == null ? e : e.getCause()));
        } finally {
            exchange.cancel(true);
        }
    }

    private HttpRequest request(Message message) throws CarryException {
        try {
            HttpRequest.Builder request = HttpRequest.newBuilder(address())
                    .timeout(Duration.ofMillis(EXCHANGE_MS))
                    .header("Content-Type", "application/json")
                    .header("User-Agent", "bankfire");
            Path headers = settings.headersFile();
            if (headers != null) {
                for (String line : Secrets.lines(headers, "headers")) {
                    int colon = line.indexOf(':');
                    if (colon < 1) {
                        throw CarryException.passing("headers file " + headers + ": a line is not Name: value");
                    }
                    request.setHeader(
                            line.substring(0, colon).strip(),
                            line.substring(colon + 1).strip());
                }
            }
            Path token = settings.tokenFile();
            if (token != null) {
                request.setHeader("Authorization", "Bearer " + Secrets.firstLine(token, "token"));
            }
            return request.POST(HttpRequest.BodyPublishers.ofString(message.json()))
                    .build();
        } catch (IllegalArgumentException unfit) {
            // Its message would show the secret.
            throw CarryException.passing("the address, a header or the token in the files cannot be used");
        }
    }

    private URI address() throws CarryException {
        URI url = settings.url();
        Path file = settings.urlFile();
        return url != null || file == null ? uri(url) : URI.create(Secrets.firstLine(file, "url"));
    }

    private static URI uri(@Nullable URI url) {
        if (url == null) {
            throw new IllegalArgumentException("no address");
        }
        return url;
    }

    private HttpClient client() throws CarryException {
        HttpClient made = client;
        if (made == null) {
            HttpClient.Builder builder = HttpClient.newBuilder()
                    .connectTimeout(CONNECT)
                    .version(HttpClient.Version.HTTP_1_1)
                    .followRedirects(HttpClient.Redirect.NEVER);
            Path caFile = settings.caFile();
            if (caFile != null) {
                try {
                    builder.sslContext(BrokerOptions.tls(caFile));
                } catch (BrokerException e) {
                    throw CarryException.passing(String.valueOf(e.getMessage()));
                }
            }
            made = builder.build();
            client = made;
        }
        return made;
    }

    private String judge(HttpResponse<Void> response, String peer) throws CarryException {
        int status = response.statusCode();
        if (status >= 200 && status < 300) {
            return peer + " answered " + status + ".";
        }
        String words = peer + " answered " + status;
        if (status == REQUEST_TIMEOUT || status == TOO_MANY_REQUESTS || status >= 500) {
            throw CarryException.passing(
                    words,
                    response.headers()
                            .firstValue("Retry-After")
                            .map(this::waitS)
                            .orElse(0.0));
        }
        throw CarryException.lasting(words + (status < 400 ? ": the address has moved" : ": it refuses the message"));
    }

    /** Seconds, or a date; 0 when it is neither. */
    private double waitS(String retryAfter) {
        try {
            return Math.max(0, Long.parseLong(retryAfter.strip()));
        } catch (NumberFormatException notSeconds) {
            try {
                Instant at = ZonedDateTime.parse(retryAfter.strip(), DateTimeFormatter.RFC_1123_DATE_TIME)
                        .toInstant();
                return Math.max(0, Duration.between(now.get(), at).toMillis() / 1e3);
            } catch (DateTimeException notDate) {
                return 0;
            }
        }
    }

    private static String late(String peer) {
        return peer + " did not answer within " + EXCHANGE_MS / 1_000 + " s";
    }

    static String words(String peer, Throwable problem) {
        for (Throwable cause = problem; cause != null; cause = cause.getCause()) {
            if (cause instanceof UnresolvedAddressException) {
                return peer + ": no host of this name is known";
            }
            if (cause instanceof SSLException) {
                return peer + ": no TLS connection: " + cause.getMessage();
            }
        }
        if (problem instanceof HttpConnectTimeoutException) {
            return peer + " cannot be reached";
        }
        if (problem instanceof HttpTimeoutException) {
            return late(peer); // the client's own watch, which may be a moment before ours
        }
        if (problem instanceof ConnectException) {
            return peer + ": connection refused; is the server running?";
        }
        return peer + ": the exchange failed: " + problem.getClass().getSimpleName();
    }
}
