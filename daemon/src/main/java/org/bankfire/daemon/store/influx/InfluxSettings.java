package org.bankfire.daemon.store.influx;

import java.net.URI;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * Where the server is and how to get in. The secret stands in a file and is read when the client is made, so that it is in
 * no configuration, log or message.
 *
 * @param url {@code http://host:8086} or {@code https://…}
 * @param database name of the database
 * @param user user, or null where the server asks for none
 * @param passwordFile file whose first line is the user's password or token; null without a user
 */
public record InfluxSettings(
        URI url,
        String database,
        @Nullable String user,
        @Nullable Path passwordFile) {
    public InfluxSettings {
        if (!("http".equals(url.getScheme()) || "https".equals(url.getScheme())) || url.getUserInfo() != null) {
            throw new IllegalArgumentException("server address with scheme \"" + url.getScheme()
                    + "\"; allowed is http://host:8086 or https://host:8086, user and password apart from it");
        }
        if (database.isEmpty()) {
            throw new IllegalArgumentException("the database has no name");
        }
        if ((user == null) != (passwordFile == null)) {
            throw new IllegalArgumentException("user and password file go together");
        }
    }
}
