package org.bankfire.daemon.config;

/**
 * How the daemon works: {@code [daemon]}.
 *
 * @param ledgerThreads threads that judge readings, each for its part of the forges, 1 to {@value #MOST_LEDGER_THREADS};
 *     {@value #AUTOMATIC} for as many as the computer has processors. Never more than there are forges
 */
public record DaemonConfig(int ledgerThreads) {
    /** Stands for as many as there are processors. */
    public static final int AUTOMATIC = 0;

    /** More processors than any computer has that this is made for. */
    public static final int MOST_LEDGER_THREADS = 64;

    /** What holds where nothing is written. */
    public static final DaemonConfig DEFAULT = new DaemonConfig(AUTOMATIC);

    /** The number that is written, or {@code processors}. */
    public int ledgerThreadsOr(int processors) {
        return ledgerThreads == AUTOMATIC ? Math.min(processors, MOST_LEDGER_THREADS) : ledgerThreads;
    }
}
