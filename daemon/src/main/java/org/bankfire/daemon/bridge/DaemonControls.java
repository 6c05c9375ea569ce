package org.bankfire.daemon.bridge;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Function;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.virtual.VirtualSource;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.SourceException;

/** What users ask for, done on the ledger thread so that it stands in order with the readings. */
public final class DaemonControls implements ForgeControls {
    /** Longer than a slow card takes to sync; a user waits no longer for an answer. */
    private static final long ANSWER_WAIT_MS = 5_000;

    private final List<String> forges;
    private final Ledgers ledgers;
    private final StoreWriter writer;
    private final ReceiptClock clock;
    private final List<VirtualSource> virtualForges;

    /**
     * Controls over {@code ledgers}.
     *
     * @param forges the ids of all of them, in order of configuration
     * @param virtualForges take the demo's actions
     */
    public DaemonControls(
            List<String> forges,
            Ledgers ledgers,
            StoreWriter writer,
            ReceiptClock clock,
            List<VirtualSource> virtualForges) {
        this.forges = List.copyOf(forges);
        this.ledgers = ledgers;
        this.writer = writer;
        this.clock = clock;
        this.virtualForges = List.copyOf(virtualForges);
    }

    @Override
    public boolean act(String forge, AlarmAction action) {
        return ask(forge, pipeline -> pipeline.act(forge, action, clock.stamp()));
    }

    @Override
    public String captureZero(String forge, String channel) {
        return ask(forge, pipeline -> pipeline.captureZero(forge, channel, clock.stamp()));
    }

    @Override
    public List<String> demoActions() {
        return virtualForges.isEmpty() ? List.of() : virtualForges.get(0).actions();
    }

    @Override
    public void demo(String action) {
        for (VirtualSource forge : virtualForges) {
            forge.trigger(action);
        }
    }

    /** Takes a pack of the user's as if a source had delivered it, and returns when it is stored. */
    public void write(Pack pack) {
        answer(ledgers.accept(pack));
        boolean stored;
        try {
            stored = writer.flush(Duration.ofMillis(ANSWER_WAIT_MS));
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            stored = false;
        }
        if (!stored) {
            throw new SourceException(
                    "taken, but not yet stored: " + writer.health().message());
        }
    }

    private <T> T ask(String forge, Function<Pipeline, T> request) {
        if (!forges.contains(forge)) {
            // Asked of a ledger it would name only its own.
            throw new IllegalArgumentException(
                    "forge \"" + forge + "\" is not configured; allowed are " + String.join(", ", forges));
        }
        return answer(ledgers.request(forge, request));
    }

    private static <T> T answer(CompletableFuture<T> answer) {
        try {
            return answer.get(ANSWER_WAIT_MS, TimeUnit.MILLISECONDS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw new SourceException("the daemon is stopping", interrupted);
        } catch (TimeoutException late) {
            throw new SourceException("the daemon did not answer within " + ANSWER_WAIT_MS + " ms", late);
        } catch (ExecutionException failure) {
            if (failure.getCause() instanceof IllegalArgumentException refused) {
                throw new IllegalArgumentException(refused.getMessage(), refused);
            }
            throw new SourceException("the daemon could not do it: " + failure.getCause(), failure);
        }
    }
}
