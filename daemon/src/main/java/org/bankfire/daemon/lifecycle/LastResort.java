package org.bankfire.daemon.lifecycle;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/** Ends a process that cannot judge readings any more, so that a fresh one can. */
final class LastResort {
    /** As contracted: failed. */
    private static final int FAILED = 1;

    /** The store's writer gets its eight seconds to keep what waits, the rest some more; then it ends anyhow. */
    private static final long ORDERLY_END_S = 20;

    private LastResort() {}

    /**
     * Ends the process with exit code 1: in order if that can be done, at once if not. Returns at once.
     *
     * @param why in words, for standard error
     */
    static void end(String why) {
        daemonThread("end at the latest", () -> {
            long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(ORDERLY_END_S);
            while (System.nanoTime() < end) {
                LockSupport.parkNanos(end - System.nanoTime());
            }
            Runtime.getRuntime().halt(FAILED);
        });
        daemonThread("end", () -> System.exit(FAILED));
        System.err.println("bankfire: " + why);
    }

    private static void daemonThread(String name, Runnable task) {
        Thread thread = new Thread(task, name);
        thread.setDaemon(true);
        thread.start();
    }
}
