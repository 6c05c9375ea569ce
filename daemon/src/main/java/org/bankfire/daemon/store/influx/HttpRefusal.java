package org.bankfire.daemon.store.influx;

import java.io.IOException;
import okhttp3.Interceptor;
import okhttp3.Response;

/**
 * An answer of the server that is not success, before the client library makes anything of it: the library looks for words
 * in a body of the expected form, while a gateway in front of the server answers in forms of its own.
 */
final class HttpRefusal extends IOException {
    private static final long serialVersionUID = 1L;

    /** A refused block comes back line by line in the server's words; its beginning says what is wrong. */
    private static final int MOST_CHARACTERS = 500;

    private final int code;
    private final boolean ofDatabase;

    private HttpRefusal(int code, String said, boolean ofDatabase) {
        super(said);
        this.code = code;
        this.ofDatabase = ofDatabase;
    }

    /** Whether the database itself said so, by its header or in its form, and not something in front of it or in its place. */
    boolean isOfDatabase() {
        return ofDatabase;
    }

    /** The HTTP status. */
    int code() {
        return code;
    }

    /** Passes a success on and throws anything else. */
    static Response requireSuccess(Interceptor.Chain chain) throws IOException {
        Response response = chain.proceed(chain.request());
        if (response.isSuccessful()) {
            return response;
        }
        try (response) {
            String said = response.header("X-Influxdb-Error");
            boolean ofDatabase = said != null;
            if (said == null) {
                String body = response.peekBody(MOST_CHARACTERS).string();
                ofDatabase = body.startsWith("{");
                said = "status " + response.code() + " " + body;
            }
            throw new HttpRefusal(
                    response.code(),
                    said.length() <= MOST_CHARACTERS ? said : said.substring(0, MOST_CHARACTERS) + "\u2026",
                    ofDatabase);
        }
    }
}
