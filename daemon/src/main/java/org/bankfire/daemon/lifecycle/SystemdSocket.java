package org.bankfire.daemon.lifecycle;

import com.sun.jna.Function;
import com.sun.jna.NativeLibrary;

/**
 * {@code sd_notify(3)} of systemd's own library, which is there wherever systemd is. Java 17 has no datagram sockets in
 * the file system of its own. It finds the socket in the environment, abstract names (@) too.
 */
final class SystemdSocket implements ServiceNotifier.Wire {
    private static final String LIBRARY = "libsystemd.so.0";

    private final Function notify;

    /** @throws UnsatisfiedLinkError when the library is not there, or its likes for this processor */
    SystemdSocket() {
        notify = NativeLibrary.getInstance(LIBRARY).getFunction("sd_notify");
    }

    @Override
    public boolean send(String state) {
        return notify.invokeInt(new Object[] {0, state}) > 0;
    }
}
