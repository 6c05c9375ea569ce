package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.function.Function;
import java.util.function.ToIntFunction;
import org.bankfire.daemon.acquire.frame.Pack;

/** The ledger threads of all forges, as one. Safe for use by many threads. */
public final class Ledgers implements AutoCloseable {
    private final List<Ledger> ledgers;
    private final ToIntFunction<String> placeOf;

    /**
     * The ledgers.
     *
     * @param ledgers one at least
     * @param placeOf which of them a forge belongs to, from 0
     */
    public Ledgers(List<Ledger> ledgers, ToIntFunction<String> placeOf) {
        this.ledgers = List.copyOf(ledgers);
        this.placeOf = placeOf;
    }

    /** Starts every thread. */
    public void start() {
        ledgers.forEach(Ledger::start);
    }

    /** Whether every thread runs and gets on. */
    public boolean heartBeatsWell() {
        return ledgers.stream().allMatch(Ledger::heartBeatsWell);
    }

    /** Since the last beat of the thread that is silent longest, s. */
    public double silentS() {
        double longestS = 0;
        for (Ledger ledger : ledgers) {
            longestS = Math.max(longestS, ledger.heart().silentS());
        }
        return longestS;
    }

    /** Times that a thread was replaced. */
    public long restarts() {
        return ledgers.stream().mapToLong(Ledger::restarts).sum();
    }

    /** Why one of them was replaced last; empty when none ever was. */
    public String lastRestart() {
        String latest = "";
        double agoS = Double.POSITIVE_INFINITY;
        for (Ledger ledger : ledgers) {
            if (!ledger.lastRestart().isEmpty() && ledger.sinceRestartS() < agoS) {
                agoS = ledger.sinceRestartS();
                latest = ledger.lastRestart();
            }
        }
        return latest;
    }

    /** The forges that are not watched because whoever judged them hung, each with the reason in words; in order of name. */
    public Map<String, String> unwatched() {
        Map<String, String> all = new TreeMap<>();
        ledgers.forEach(ledger -> all.putAll(ledger.unwatched()));
        return all;
    }

    /** Runs {@code request} on the thread of {@code forge}, as {@link Ledger#request}. */
    public <T> CompletableFuture<T> request(String forge, Function<Pipeline, T> request) {
        return ledgers.get(placeOf.applyAsInt(forge)).request(request);
    }

    /** Takes a pack in, each forge's part on its own thread; the result comes when all of it has passed. */
    public CompletableFuture<Void> accept(Pack pack) {
        List<CompletableFuture<Boolean>> parts = new ArrayList<>();
        Map<String, Pack> packs = new LinkedHashMap<>(ForgePacks.split(pack));
        packs.forEach((forge, part) -> parts.add(request(forge, pipeline -> {
            pipeline.accept(part);
            return true;
        })));
        return CompletableFuture.allOf(parts.toArray(CompletableFuture[]::new));
    }

    /** Takes what waits, then stops; every thread is stopped even when another does not stop in time. */
    @Override
    public void close() {
        IllegalStateException failure = null;
        for (Ledger ledger : ledgers) {
            try {
                ledger.close();
            } catch (IllegalStateException late) {
                if (failure != null) {
                    late.addSuppressed(failure);
                }
                failure = late;
            }
        }
        if (failure != null) {
            throw failure;
        }
    }
}
