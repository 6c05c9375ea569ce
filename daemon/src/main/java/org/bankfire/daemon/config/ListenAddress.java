package org.bankfire.daemon.config;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Reads the address that the page is served on. */
final class ListenAddress {
    static final String DEFAULT_HOST = "127.0.0.1";
    static final int DEFAULT_PORT = 8440;

    private static final int MAX_PORT = 65_535;
    private static final Pattern HOST_AND_PORT = Pattern.compile("(?:\\[([0-9a-fA-F:]+)]|([^:\\[\\]\\s]+)):(\\d{1,5})");
    private static final Pattern LOOPBACK =
            Pattern.compile("localhost|127(?:\\.\\d{1,3}){3}|::1|(?:0{1,4}:){7}0{0,3}1");
    private static final String ALLOWED = "HOST:PORT with a port from 0 to 65535, as in \"127.0.0.1:8440\"";

    private ListenAddress() {}

    static @Nullable DashboardConfig read(Section section) {
        String listen = section.text("listen", ALLOWED, DEFAULT_HOST + ":" + DEFAULT_PORT);
        Matcher matcher = HOST_AND_PORT.matcher(listen);
        if (!matcher.matches() || Integer.parseInt(matcher.group(3)) > MAX_PORT) {
            section.refuse("listen", ALLOWED);
            return null;
        }
        String host = matcher.group(1) == null ? matcher.group(2) : matcher.group(1);
        if (!LOOPBACK.matcher(host).matches()) {
            section.refuse(
                    "listen",
                    "anything but this machine itself needs [access], which is not available yet in this version; "
                            + "allowed: 127.0.0.1, [::1] or localhost with a port");
            return null;
        }
        return section.build(() -> new DashboardConfig(host, Integer.parseInt(matcher.group(3))));
    }
}
