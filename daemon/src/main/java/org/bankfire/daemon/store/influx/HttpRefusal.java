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

    private HttpRefusal(int code, String said) {
        super(said);
        this.code = code;
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
            if (said == null) {
                said = "status " + response.code() + " "
                        + response.peekBody(MOST_CHARACTERS).string();
            }
            throw new HttpRefusal(
                    response.code(),
                    said.length() <= MOST_CHARACTERS ? said : said.substring(0, MOST_CHARACTERS) + "\u2026");
        }
    }
}
