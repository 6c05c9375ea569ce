package org.bankfire.dashboard;

import java.net.InetAddress;
import java.net.UnknownHostException;

/**
 * Where the dashboard listens.
 *
 * @param host a loopback address or {@code localhost}; anything else needs access rules, which are not there yet
 * @param port 0 to 65535; 0 takes any free port
 */
public record DashboardSettings(String host, int port) {
    private static final int MAX_PORT = 65_535;

    public DashboardSettings {
        if (port < 0 || port > MAX_PORT) {
            throw new IllegalArgumentException("dashboard port " + port + "; allowed are 0 to " + MAX_PORT);
        }
        if (!isLoopback(host)) {
            throw new IllegalArgumentException("dashboard host \"" + host
                    + "\" can be reached from other machines, which needs [access]; without it allowed are 127.0.0.1,"
                    + " ::1 and localhost");
        }
    }

    private static boolean isLoopback(String host) {
        if (host.isBlank()) {
            return false;
        }
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            return false;
        }
    }
}
