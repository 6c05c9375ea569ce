package org.bankfire.daemon.config;

/**
 * Where the page is served: {@code [dashboard]}.
 *
 * @param host a loopback address; anything else needs access control
 * @param port 0 to 65,535; 0 takes any free one
 */
public record DashboardConfig(String host, int port) {
    /** The address as it is written: {@code 127.0.0.1:8440} or {@code [::1]:8440}. */
    public String listen() {
        return (host.contains(":") ? "[" + host + "]" : host) + ":" + port;
    }
}
