package org.bankfire.daemon.lifecycle;

import org.bankfire.daemon.ledger.LedgerSupervisor;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.store.StoreWriter;

/**
 * Whether the daemon's own threads do their work. A sensor that is unplugged, a broker that is away or a full disk is no
 * reason for a fresh process: those are told as alarms.
 */
final class Soundness {
    private final Ledgers ledgers;
    private final LedgerSupervisor supervisor;
    private final StoreWriter writer;

    /** Looks at these. */
    Soundness(Ledgers ledgers, LedgerSupervisor supervisor, StoreWriter writer) {
        this.ledgers = ledgers;
        this.supervisor = supervisor;
        this.writer = writer;
    }

    /** Whether a fresh process would do no better. */
    boolean isSound() {
        return ledgers.heartBeatsWell() && supervisor.isAlive() && writer.isAlive();
    }

    /** How it is, one short line. */
    String words() {
        if (!ledgers.heartBeatsWell()) {
            return "readings are not judged: the thread that does hangs";
        }
        if (!supervisor.isAlive()) {
            return "nobody watches the thread that judges the readings";
        }
        if (!writer.isAlive()) {
            return "nothing is stored: the thread that does has ended";
        }
        StoreWriter.Health store = writer.health();
        String restarts = ledgers.restarts() == 0 ? "" : ", restarts of its thread: " + ledgers.restarts();
        String unwatched = ledgers.unwatched().isEmpty()
                ? ""
                : ", not those of " + String.join(", ", ledgers.unwatched().keySet());
        return store.ok()
                ? "judging readings" + unwatched + restarts
                : "judging readings" + unwatched + "; the store fails: " + store.message();
    }
}
