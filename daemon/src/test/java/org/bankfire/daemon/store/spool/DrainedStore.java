package org.bankfire.daemon.store.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;

/** A spooled store whose readings are all on the server, and no longer in the file, whenever they are asked for. */
final class DrainedStore implements ReadingStore {
    private static final TimeRange NOTHING = new TimeRange(TimeRange.ALL.from(), TimeRange.ALL.from());

    private final SpooledStore store;

    /** @param store keeps nothing here, and its clock is beyond all that is stored */
    DrainedStore(SpooledStore store) {
        this.store = store;
    }

    @Override
    public void append(StoreBatch batch) throws StoreException {
        store.append(batch);
        try {
            assertThat(store.drain(rows -> {})).isZero();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new StoreException("interrupted", e);
        }
        store.prune(NOTHING);
        long left = store.prune(NOTHING);
        while (left > 0) {
            left = store.prune(NOTHING);
        }
    }

    @Override
    public long prune(TimeRange range) throws StoreException {
        return store.prune(range);
    }

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        store.readings(forge, range, sink);
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        store.readings(channel, range, sink);
    }

    @Override
    public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        return store.rollups(channel, range, width);
    }

    @Override
    public Optional<Reading> latest(Channel channel) throws StoreException {
        return store.latest(channel);
    }

    @Override
    public void close() throws StoreException {
        store.close();
    }

    @Override
    public List<String> forges() throws StoreException {
        return store.forges();
    }

    @Override
    public List<Channel> channels(String forge) throws StoreException {
        return store.channels(forge);
    }

    @Override
    public List<Note> notes(String forge, TimeRange range) throws StoreException {
        return store.notes(forge, range);
    }

    @Override
    public List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        return store.notes(forge, name, range);
    }

    @Override
    public List<Setting> settings(String forge, TimeRange range) throws StoreException {
        return store.settings(forge, range);
    }

    @Override
    public Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return store.latestSetting(forge, name);
    }

    @Override
    public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        return store.alarmTransitions(forge, range);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return store.latestAlarmTransitions(forge, limit);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return store.latestAlarmTransitions(forge, alarm, limit);
    }

    @Override
    public Optional<Burn> burn(String id) throws StoreException {
        return store.burn(id);
    }

    @Override
    public List<Burn> burns(String forge, int limit) throws StoreException {
        return store.burns(forge, limit);
    }

    @Override
    public Optional<StoredFit> fit(String burnId) throws StoreException {
        return store.fit(burnId);
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) throws StoreException {
        return store.losses(forge, limit);
    }
}
