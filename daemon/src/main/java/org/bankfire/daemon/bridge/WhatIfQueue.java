package org.bankfire.daemon.bridge;

import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.CancellationException;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.function.Supplier;
import org.bankfire.dashboard.source.SourceException;
import org.bankfire.dashboard.source.WhatIf.BusyException;

/** Questions that take seconds, answered one after another: one thread, so that the other core is left to the readings. */
public final class WhatIfQueue implements AutoCloseable {
    /** Each holds a thread of the server while it waits, and those are a dozen. */
    private static final int MOST_WAITING = 3;
    /** What a small board takes for one question, many times over, s. */
    private static final long PATIENCE_S = 120;

    private final ThreadPoolExecutor worker;
    /** The latest question of each page that is not yet answered: no more than work and wait. */
    private final Map<String, CompletableFuture<String>> latest = new HashMap<>();

    /** An idle queue. */
    public WhatIfQueue() {
        worker = new ThreadPoolExecutor(1, 1, 0, TimeUnit.SECONDS, new LinkedBlockingQueue<>(MOST_WAITING), task -> {
            Thread thread = new Thread(task, "what-if");
            thread.setDaemon(true);
            return thread;
        });
    }

    static BusyException replaced() {
        return new BusyException("a newer question of this page took the place of this one", true);
    }

    /**
     * Answers a question, and returns when it is answered.
     *
     * @param page whose older question makes room; empty for nobody's
     * @param work is told whether to go on
     * @throws BusyException when there is no room, or a newer question took the place
     */
    public String ask(String page, Function<Supplier<Boolean>, String> work) {
        CompletableFuture<String> answer = new CompletableFuture<>();
        Task task = new Task(answer, work);
        synchronized (latest) {
            CompletableFuture<String> older = page.isEmpty() ? null : latest.put(page, answer);
            if (older != null) {
                older.cancel(false);
                worker.getQueue().removeIf(waiting -> waiting instanceof Task each && each.answer == older);
            }
            try {
                worker.execute(task);
            } catch (RejectedExecutionException full) {
                latest.remove(page, answer);
                throw new BusyException("others are being answered: try again in a few seconds", false);
            }
        }
        try {
            return answer.orTimeout(PATIENCE_S, TimeUnit.SECONDS).join();
        } catch (CancellationException superseded) {
            throw replaced();
        } catch (CompletionException failure) {
            if (failure.getCause() instanceof BusyException busy) {
                throw busy;
            }
            throw new SourceException("the forge cannot be predicted: " + failure.getCause(), failure);
        } finally {
            synchronized (latest) {
                latest.remove(page, answer);
            }
        }
    }

    private record Task(CompletableFuture<String> answer, Function<Supplier<Boolean>, String> work)
            implements Runnable {
        @Override
        public void run() {
            if (answer.isDone()) {
                return;
            }
            try {
                answer.complete(work.apply(() -> !answer.isDone()));
            } catch (RuntimeException | Error failure) {
                answer.completeExceptionally(failure);
            }
        }
    }

    @Override
    public void close() {
        worker.shutdownNow();
        synchronized (latest) {
            latest.values().forEach(each -> each.cancel(false));
        }
    }
}
