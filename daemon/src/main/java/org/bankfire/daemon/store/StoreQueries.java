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

/** What can be asked of a log book. Any thread may ask. */
public interface StoreQueries {
    /** Calls {@code sink} with every reading of the forge in the range, in order of source time, then channel name. */
    void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException;

    /** Calls {@code sink} with every reading of the channel in the range, in order of source time. */
    void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException;

    /** Roll-ups of the good and uncertain readings of the channel whose buckets begin in the range, in time order. */
    List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException;

    /** The reading with the latest source time. */
    Optional<Reading> latest(Channel channel) throws StoreException;

    /** Ids of all forges that hold anything, sorted. */
    List<String> forges() throws StoreException;

    /** Channels of the forge, sorted by name. */
    List<Channel> channels(String forge) throws StoreException;

    /** In order of time, then name. */
    List<Note> notes(String forge, TimeRange range) throws StoreException;

    /** Notes of one name, in order of time. */
    List<Note> notes(String forge, String name, TimeRange range) throws StoreException;

    /** In order of time, then name. */
    List<Setting> settings(String forge, TimeRange range) throws StoreException;

    /** The setting of that name with the latest time. */
    Optional<Setting> latestSetting(String forge, String name) throws StoreException;

    /** In time order. */
    List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException;

    /** The newest {@code limit}, newest first. */
    List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException;

    /** The newest {@code limit} of one alarm, newest first. */
    List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException;

    Optional<Burn> burn(String id) throws StoreException;

    /** The newest {@code limit} by start, newest first. */
    List<Burn> burns(String forge, int limit) throws StoreException;

    /** The fit of a burn. */
    Optional<StoredFit> fit(String burnId) throws StoreException;

    /** Loss coefficients of the newest {@code limit} burns by start that told one, oldest first. */
    List<BurnLoss> losses(String forge, int limit) throws StoreException;
}
