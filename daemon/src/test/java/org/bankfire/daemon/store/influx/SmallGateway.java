package org.bankfire.daemon.store.influx;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;

/**
 * A web server that passes requests on to another, as one that keeps the certificate does: it takes small bodies alone, and
 * its refusals are pages for people.
 */
final class SmallGateway implements AutoCloseable {
    private static final Duration TIMEOUT = Duration.ofSeconds(30);

    private final HttpClient client =
            HttpClient.newBuilder().proxy(HttpClient.Builder.NO_PROXY).build();
    private final HttpServer server;
    private final URI target;
    private final int mostBytes;

    SmallGateway(URI target, int mostBytes) throws IOException {
        this.target = target;
        this.mostBytes = mostBytes;
        server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.createContext("/", this::pass);
        server.start();
    }

    URI url() {
        return URI.create("http://127.0.0.1:" + server.getAddress().getPort());
    }

    private void pass(HttpExchange exchange) throws IOException {
        try (exchange) {
            byte[] body = exchange.getRequestBody().readAllBytes();
            if (body.length > mostBytes) {
                refuse(exchange, 413, "Request Entity Too Large");
                return;
            }
            HttpResponse<byte[]> answer;
            try {
                answer = client.send(request(exchange, body), HttpResponse.BodyHandlers.ofByteArray());
            } catch (IOException away) {
                refuse(exchange, 502, "Bad Gateway");
                return;
            }
            answer.headers()
                    .firstValue("Content-Type")
                    .ifPresent(type -> exchange.getResponseHeaders().set("Content-Type", type));
            send(exchange, answer.statusCode(), answer.body());
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
        }
    }

    private HttpRequest request(HttpExchange exchange, byte[] body) {
        HttpRequest.Builder request = HttpRequest.newBuilder(
                        target.resolve(exchange.getRequestURI().toString()))
                .timeout(TIMEOUT)
                .method(exchange.getRequestMethod(), HttpRequest.BodyPublishers.ofByteArray(body));
        for (String header : new String[] {"Content-Encoding", "Content-Type", "Accept", "Authorization"}) {
            String value = exchange.getRequestHeaders().getFirst(header);
            if (value != null) {
                request.header(header, value);
            }
        }
        return request.build();
    }

    private static void refuse(HttpExchange exchange, int code, String why) throws IOException {
        exchange.getResponseHeaders().set("Content-Type", "text/html");
        send(
                exchange,
                code,
                ("<html><head><title>" + code + " " + why + "</title></head><body><h1>" + why + "</h1></body></html>")
                        .getBytes(StandardCharsets.UTF_8));
    }

    private static void send(HttpExchange exchange, int code, byte[] body) throws IOException {
        exchange.sendResponseHeaders(code, body.length == 0 ? -1 : body.length);
        exchange.getResponseBody().write(body);
    }

    @Override
    public void close() {
        server.stop(0);
    }
}
