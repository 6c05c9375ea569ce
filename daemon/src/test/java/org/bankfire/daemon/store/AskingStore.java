package org.bankfire.daemon.store;

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

/** A store for tests that asks whoever it is given; what is done with a batch is the subclass's. */
public abstract class AskingStore implements ReadingStore {
    private final StoreQueries queries;

    protected AskingStore(StoreQueries queries) {
        this.queries = queries;
    }

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        queries.readings(forge, range, sink);
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        queries.readings(channel, range, sink);
    }

    @Override
    public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        return queries.rollups(channel, range, width);
    }

    @Override
    public Optional<Reading> latest(Channel channel) throws StoreException {
        return queries.latest(channel);
    }

    @Override
    public List<String> forges() throws StoreException {
        return queries.forges();
    }

    @Override
    public List<Channel> channels(String forge) throws StoreException {
        return queries.channels(forge);
    }

    @Override
    public List<Note> notes(String forge, TimeRange range) throws StoreException {
        return queries.notes(forge, range);
    }

    @Override
    public List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        return queries.notes(forge, name, range);
    }

    @Override
    public List<Setting> settings(String forge, TimeRange range) throws StoreException {
        return queries.settings(forge, range);
    }

    @Override
    public Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return queries.latestSetting(forge, name);
    }

    @Override
    public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        return queries.alarmTransitions(forge, range);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return queries.latestAlarmTransitions(forge, limit);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return queries.latestAlarmTransitions(forge, alarm, limit);
    }

    @Override
    public Optional<Burn> burn(String id) throws StoreException {
        return queries.burn(id);
    }

    @Override
    public List<Burn> burns(String forge, int limit) throws StoreException {
        return queries.burns(forge, limit);
    }

    @Override
    public Optional<StoredFit> fit(String burnId) throws StoreException {
        return queries.fit(burnId);
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) throws StoreException {
        return queries.losses(forge, limit);
    }
}
