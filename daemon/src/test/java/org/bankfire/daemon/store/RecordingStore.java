package org.bankfire.daemon.store;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Semaphore;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.jspecify.annotations.Nullable;

/** Remembers what was appended; can be told to fail, or to hang until it is let go. Nothing can be asked of it. */
public final class RecordingStore implements ReadingStore {
    private final List<StoreBatch> batches = new ArrayList<>();
    private final List<TimeRange> pruned = new ArrayList<>();
    private @Nullable Exception failure;
    private @Nullable Semaphore gate;
    private int attempts;

    public synchronized void failWith(@Nullable Exception failure) {
        this.failure = failure;
    }

    /** From now on every append waits for a permit. */
    synchronized Semaphore hang() {
        Semaphore closedGate = new Semaphore(0);
        gate = closedGate;
        return closedGate;
    }

    synchronized int attempts() {
        return attempts;
    }

    synchronized List<StoreBatch> batches() {
        return List.copyOf(batches);
    }

    synchronized List<Reading> readings() {
        return batches.stream().flatMap(batch -> batch.readings().stream()).toList();
    }

    synchronized List<TimeRange> pruned() {
        return List.copyOf(pruned);
    }

    @Override
    public void append(StoreBatch batch) throws StoreException {
        Semaphore currentGate;
        synchronized (this) {
            attempts++;
            currentGate = gate;
        }
        if (currentGate != null) {
            currentGate.acquireUninterruptibly();
        }
        synchronized (this) {
            Exception current = failure;
            if (current instanceof StoreException e) {
                throw e;
            }
            if (current instanceof RuntimeException e) {
                throw e;
            }
            batches.add(batch);
        }
    }

    @Override
    public synchronized long prune(TimeRange range) {
        pruned.add(range);
        return 17;
    }

    @Override
    public void close() {}

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) {
        throw new UnsupportedOperationException();
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) {
        throw new UnsupportedOperationException();
    }

    @Override
    public Optional<Reading> latest(Channel channel) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<String> forges() {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<Channel> channels(String forge) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<Note> notes(String forge, TimeRange range) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<Note> notes(String forge, String name, TimeRange range) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<Setting> settings(String forge, TimeRange range) {
        throw new UnsupportedOperationException();
    }

    @Override
    public Optional<Setting> latestSetting(String forge, String name) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) {
        throw new UnsupportedOperationException();
    }

    @Override
    public Optional<Burn> burn(String id) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<Burn> burns(String forge, int limit) {
        throw new UnsupportedOperationException();
    }

    @Override
    public Optional<StoredFit> fit(String burnId) {
        throw new UnsupportedOperationException();
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) {
        throw new UnsupportedOperationException();
    }
}
