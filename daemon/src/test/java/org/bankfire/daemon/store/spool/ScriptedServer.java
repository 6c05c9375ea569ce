package org.bankfire.daemon.store.spool;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.NewsEncoder;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;

/**
 * A server in memory that does as it is told: away, refusing, forgetful. Lines are numbers of things that were encoded; a
 * later point of a key replaces the earlier, as databases of points do.
 */
final class ScriptedServer implements ServerTarget, NewsEncoder {
    /** Keeps the log book and lists the channels; its roll-ups are not asked for. */
    private final SqliteStore log;

    private final List<Object> encoded = new ArrayList<>();
    private final Map<Channel, TreeMap<WallTime, Reading>> readings = new HashMap<>();
    private final Map<List<Object>, TreeMap<WallTime, Rollup>> rollups = new HashMap<>();

    private boolean away;
    private boolean closed;
    private boolean ready;
    private boolean mute;
    private Event beforePosts = () -> {};
    private Event beforeRollups = () -> {};
    private Predicate<Object> refused = thing -> false;
    private final List<Object> refusedAlone = new ArrayList<>();
    private int mostLines = Integer.MAX_VALUE;
    private long readingsTaken;
    private int posts;
    private int tries;
    private int setUps;

    /** Something that happens meanwhile. */
    interface Event {
        void happen() throws StoreException;
    }

    ScriptedServer(SqliteStore log) {
        this.log = log;
    }

    synchronized void away(boolean now) {
        away = now;
        ready &= !now;
    }

    /** It takes what comes, and tells no readings. */
    synchronized void mute(boolean now) {
        mute = now;
    }

    /** What happens whenever something is posted, before it is taken. */
    synchronized void beforePosts(Event event) {
        beforePosts = event;
    }

    /** What happens while somebody waits for roll-ups. */
    synchronized void beforeRollups(Event event) {
        beforeRollups = event;
    }

    synchronized void refuse(Predicate<Object> things) {
        refused = things;
    }

    synchronized void takeAtMost(int lines) {
        mostLines = lines;
    }

    /** Readings in all posts, those that came again included. */
    synchronized long readingsTaken() {
        return readingsTaken;
    }

    synchronized int count(Channel channel, TimeRange range) {
        return readings.getOrDefault(channel, new TreeMap<>())
                .subMap(range.from(), range.to())
                .size();
    }

    synchronized int posts() {
        return posts;
    }

    /** Things that were refused when they came alone, in order, each as often as it was asked for. */
    synchronized List<Object> refusedAlone() {
        return List.copyOf(refusedAlone);
    }

    synchronized int tries() {
        return tries;
    }

    synchronized int setUps() {
        return setUps;
    }

    synchronized boolean closed() {
        return closed;
    }

    @Override
    public synchronized byte[] encode(StoreNews news) {
        StringBuilder lines = new StringBuilder();
        StoreBatch fresh = news.fresh();
        for (List<?> things : List.of(
                fresh.readings(),
                fresh.notes(),
                fresh.settings(),
                fresh.transitions(),
                fresh.burns(),
                fresh.fits(),
                news.rollups())) {
            for (Object thing : things) {
                lines.append(encoded.size()).append('\n');
                encoded.add(thing);
            }
        }
        return lines.toString().getBytes(UTF_8);
    }

    @Override
    public List<String> lines(byte[] block) {
        return new String(block, UTF_8).lines().toList();
    }

    @Override
    public synchronized boolean needsSetUp() {
        return !ready;
    }

    @Override
    public synchronized void setUp(Duration keepReadings) throws StoreException {
        requireThere();
        ready = true;
        setUps++;
    }

    @Override
    public synchronized void write(List<String> lines) throws StoreException {
        tries++;
        beforePosts.happen();
        requireThere();
        if (lines.size() > mostLines) {
            throw new ServerRefusedException("413 too large", true, new IOException());
        }
        List<Object> things =
                lines.stream().map(line -> encoded.get(Integer.parseInt(line))).toList();
        for (Object thing : things) {
            if (refused.test(thing)) {
                if (things.size() == 1) {
                    refusedAlone.add(thing);
                }
                throw new ServerRefusedException("400 not that", false, new IOException());
            }
        }
        posts++;
        for (Object thing : things) {
            take(thing);
        }
    }

    private void take(Object thing) throws StoreException {
        if (thing instanceof Reading reading) {
            readingsTaken++;
            readings.computeIfAbsent(reading.channel(), unused -> new TreeMap<>())
                    .put(reading.sourceTime(), reading);
            log.takeUp(StoreBatch.ofReadings(List.of()), List.of(reading.channel()));
        } else if (thing instanceof ChannelRollup rollup) {
            rollups.computeIfAbsent(List.of(rollup.channel(), rollup.width()), unused -> new TreeMap<>())
                    .put(rollup.rollup().start(), rollup.rollup());
        } else {
            log.append(new StoreBatch(
                    List.of(),
                    thing instanceof Note note ? List.of(note) : List.of(),
                    thing instanceof Setting setting ? List.of(setting) : List.of(),
                    thing instanceof AlarmTransition transition ? List.of(transition) : List.of(),
                    thing instanceof Burn burn ? List.of(burn) : List.of(),
                    thing instanceof StoredFit fit ? List.of(fit) : List.of()));
        }
    }

    @Override
    public synchronized long prune(TimeRange range) throws StoreException {
        requireThere();
        long deleted = 0;
        for (TreeMap<WallTime, Reading> ofChannel : readings.values()) {
            int before = ofChannel.size();
            ofChannel.keySet().removeIf(range::contains);
            deleted += before - ofChannel.size();
        }
        for (Map.Entry<List<Object>, TreeMap<WallTime, Rollup>> entry : rollups.entrySet()) {
            if (entry.getKey().get(1) == Rollup.Width.TEN_SECONDS) {
                int before = entry.getValue().size();
                entry.getValue().keySet().removeIf(range::contains);
                deleted += before - entry.getValue().size();
            }
        }
        return deleted;
    }

    @Override
    public synchronized void close() {
        closed = true;
    }

    private void requireThere() throws StoreException {
        if (away) {
            throw new ServerAwayException("the server is out for a walk");
        }
    }

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        List<Reading> found = new ArrayList<>();
        for (Channel channel : channels(forge)) {
            readings(channel, range, found::add);
        }
        found.sort(Comparator.comparing(Reading::sourceTime)
                .thenComparing(reading -> reading.channel().name()));
        found.forEach(sink);
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        List<Reading> found;
        synchronized (this) {
            requireThere();
            if (mute) {
                throw new ServerAwayException("the server is lost in thought");
            }
            found = List.copyOf(readings.getOrDefault(channel, new TreeMap<>())
                    .subMap(range.from(), range.to())
                    .values());
        }
        found.forEach(sink);
    }

    @Override
    public synchronized List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width)
            throws StoreException {
        requireThere();
        beforeRollups.happen();
        return List.copyOf(rollups.getOrDefault(List.of(channel, width), new TreeMap<>())
                .subMap(range.from(), range.to())
                .values());
    }

    @Override
    public synchronized Optional<Reading> latest(Channel channel) throws StoreException {
        requireThere();
        TreeMap<WallTime, Reading> ofChannel = readings.getOrDefault(channel, new TreeMap<>());
        return ofChannel.isEmpty()
                ? Optional.empty()
                : Optional.of(ofChannel.lastEntry().getValue());
    }

    @Override
    public synchronized List<String> forges() throws StoreException {
        requireThere();
        return log.forges();
    }

    @Override
    public synchronized List<Channel> channels(String forge) throws StoreException {
        requireThere();
        return log.channels(forge);
    }

    @Override
    public synchronized List<Note> notes(String forge, TimeRange range) throws StoreException {
        requireThere();
        return log.notes(forge, range);
    }

    @Override
    public synchronized List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        requireThere();
        return log.notes(forge, name, range);
    }

    @Override
    public synchronized List<Setting> settings(String forge, TimeRange range) throws StoreException {
        requireThere();
        return log.settings(forge, range);
    }

    @Override
    public synchronized Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        requireThere();
        return log.latestSetting(forge, name);
    }

    @Override
    public synchronized List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        requireThere();
        return log.alarmTransitions(forge, range);
    }

    @Override
    public synchronized List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        requireThere();
        return log.latestAlarmTransitions(forge, limit);
    }

    @Override
    public synchronized List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit)
            throws StoreException {
        requireThere();
        return log.latestAlarmTransitions(forge, alarm, limit);
    }

    @Override
    public synchronized Optional<Burn> burn(String id) throws StoreException {
        requireThere();
        return log.burn(id);
    }

    @Override
    public synchronized List<Burn> burns(String forge, int limit) throws StoreException {
        requireThere();
        return log.burns(forge, limit);
    }

    @Override
    public synchronized Optional<StoredFit> fit(String burnId) throws StoreException {
        requireThere();
        return log.fit(burnId);
    }

    @Override
    public synchronized List<BurnLoss> losses(String forge, int limit) throws StoreException {
        requireThere();
        return log.losses(forge, limit);
    }
}
