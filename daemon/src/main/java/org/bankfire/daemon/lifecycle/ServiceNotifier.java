package org.bankfire.daemon.lifecycle;

import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells the service manager (systemd) that the daemon is ready, how it is, that it works still, and that it stops. The
 * word that it works still is given only while it is true: a daemon that does not judge readings any more is killed and
 * started afresh.
 */
final class ServiceNotifier implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(ServiceNotifier.class);

    /** Often enough to be right again soon after a hang, seldom enough to cost nothing. */
    private static final long LOOK_MS = 1_000;

    private static final long STOP_WAIT_MS = 1_000;

    private final Wire wire;
    private final long watchdogMs;
    private final BooleanSupplier sound;
    private final Supplier<String> status;
    private final CountDownLatch closed = new CountDownLatch(1);
    private final Thread thread = new Thread(this::tell, "service manager");
    private String toldStatus = "";
    private boolean toldFailure;

    /** The line to the service manager. */
    @FunctionalInterface
    interface Wire {
        /** Sends assignments such as {@code READY=1}, one a line; false when that failed. */
        boolean send(String state);
    }

    /**
     * A notifier at rest.
     *
     * @param watchdogMs within which word is expected that the daemon works, ms; 0 when none is
     * @param sound whether it does
     * @param status how it is, one short line
     */
    ServiceNotifier(Wire wire, long watchdogMs, BooleanSupplier sound, Supplier<String> status) {
        this.wire = wire;
        this.watchdogMs = watchdogMs;
        this.sound = sound;
        this.status = status;
        thread.setDaemon(true);
    }

    /**
     * The notifier that the environment asks for.
     *
     * @return null when no service manager wants to hear anything; then nothing of it is loaded
     */
    static @Nullable ServiceNotifier of(
            Map<String, String> environment, BooleanSupplier sound, Supplier<String> status) {
        if (environment.getOrDefault("NOTIFY_SOCKET", "").isEmpty()) {
            return null;
        }
        try {
            return new ServiceNotifier(new SystemdSocket(), watchdogMs(environment), sound, status);
        } catch (LinkageError missing) {
            // Type=notify would then wait for its time-out and say so; the daemon itself does its work.
            log.error("the service manager cannot be told anything: {}", missing.getMessage());
            return null;
        }
    }

    /** As sd_watchdog_enabled(3) says: only when it is meant for this process. */
    static long watchdogMs(Map<String, String> environment) {
        String pid = environment.getOrDefault("WATCHDOG_PID", "");
        if (!pid.isEmpty() && !pid.equals(Long.toString(ProcessHandle.current().pid()))) {
            return 0;
        }
        String micros = environment.getOrDefault("WATCHDOG_USEC", "");
        if (micros.isEmpty()) {
            return 0;
        }
        try {
            return Math.max(1, TimeUnit.MICROSECONDS.toMillis(Long.parseLong(micros)));
        } catch (NumberFormatException unreadable) {
            log.warn("WATCHDOG_USEC is \"{}\"; a whole number of microseconds is expected", micros);
            return 0;
        }
    }

    /** Says that the daemon is ready, and begins to say how it is. */
    void start() {
        send("READY=1");
        thread.start();
    }

    private void tell() {
        long halfNanos = TimeUnit.MILLISECONDS.toNanos(watchdogMs) / 2;
        long lookMs = watchdogMs == 0 ? LOOK_MS : Math.max(1, Math.min(LOOK_MS, watchdogMs / 4));
        long lastNanos = System.nanoTime() - halfNanos;
        try {
            while (!closed.await(lookMs, TimeUnit.MILLISECONDS)) {
                long now = System.nanoTime();
                if (watchdogMs > 0 && now - lastNanos >= halfNanos && sound.getAsBoolean()) {
                    lastNanos = now;
                    sendWhileOpen("WATCHDOG=1");
                }
                tellStatus();
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void tellStatus() {
        String now = status.get().replace('\n', ' ');
        if (!now.equals(toldStatus)) {
            toldStatus = now;
            sendWhileOpen("STATUS=" + now);
        }
    }

    /** Nothing is said after the last word. */
    private synchronized void sendWhileOpen(String state) {
        if (closed.getCount() > 0) {
            send(state);
        }
    }

    private void send(String state) {
        if (!wire.send(state) && !toldFailure) {
            toldFailure = true;
            log.warn("the service manager did not take \"{}\"; it is not told again that this fails", state);
        }
    }

    /** Says that the daemon stops. */
    @Override
    public void close() {
        synchronized (this) {
            closed.countDown();
            send("STOPPING=1");
        }
        try {
            thread.join(STOP_WAIT_MS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
