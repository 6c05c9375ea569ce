package org.bankfire.dashboard.testing;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.Timer;
import java.util.TimerTask;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.MinutesLeft;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.monitor.ForgeConditions;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.monitor.MonitorSettings;
import org.bankfire.analysis.monitor.UnwatchedForge;
import org.bankfire.analysis.outlook.Outlook;
import org.bankfire.analysis.outlook.Score;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.steady.Steadiness;
import org.bankfire.dashboard.source.DaemonHealth;
import org.bankfire.dashboard.source.FitBook;
import org.bankfire.dashboard.source.ForgeControls;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.LogBook;
import org.bankfire.dashboard.source.OutlookBook;
import org.bankfire.dashboard.source.OutputBook;
import org.bankfire.dashboard.source.ReportBook;
import org.bankfire.dashboard.source.SeriesArchive;
import org.bankfire.dashboard.source.SnapshotLag;
import org.bankfire.dashboard.source.SourceException;
import org.bankfire.dashboard.source.Sources;
import org.bankfire.dashboard.source.TrialBook;
import org.jspecify.annotations.Nullable;

/**
 * A daemon by hand: forges whose snapshots the test publishes, a stored burn that was invented, and a record of what was
 * asked for. The burn: lit 100 minutes ago, at heat after 40, a bar put in at 60, turned down at 80.
 */
public final class ScriptedForge
        implements ForgeFeed,
                SeriesArchive,
                LogBook,
                FitBook,
                ReportBook,
                OutlookBook,
                TrialBook,
                ForgeControls,
                OutputBook,
                DaemonHealth.Probe {
    public static final String QUARRY = "quarry";
    public static final String LOFT = "loft";

    /** An acknowledgement that arrived. */
    public record Acknowledged(String forge, AlarmId alarm, String by) {}

    /** What a user did about an alarm, as it arrived. */
    public record Acted(String forge, AlarmAction action) {}

    private static final double LIT_MINUTES_AGO = 100;
    private static final double GAS_PRICE = 2.9;
    /** Silence after which a reading is old, s: many times as long as between two words of a forge that speaks on. */
    public static final double NO_DATA_AFTER_S = 12;
    // As often as sensor boards send.
    private static final long VOICE_MS = 250;

    private final List<ForgeFace> faces = new CopyOnWriteArrayList<>();
    private final Map<String, ForgeSnapshot> snapshots = new ConcurrentHashMap<>();
    private final List<Consumer<ForgeSnapshot>> listeners = new CopyOnWriteArrayList<>();
    private final List<Note> notes = new CopyOnWriteArrayList<>();
    private final List<Setting> settings = new CopyOnWriteArrayList<>();
    private final List<Reading> weighings = new CopyOnWriteArrayList<>();
    private final List<AlarmTransition> journal = new CopyOnWriteArrayList<>();
    private final List<Acted> acted = new CopyOnWriteArrayList<>();
    private final List<String> triggered = new CopyOnWriteArrayList<>();
    private final Map<String, String> fits = new ConcurrentHashMap<>();
    private volatile @Nullable Outlook outlook;
    private volatile Score score = new Score(0, Double.NaN, Double.NaN, Double.NaN, List.of());
    private volatile double askedPauseS = Double.NaN;
    private volatile List<BurnLoss> losses = List.of();
    private final ScriptedWhatIf whatIf = new ScriptedWhatIf();
    private volatile String trials = threeTrials();
    private final List<Asked> askedTrials = new CopyOnWriteArrayList<>();
    private volatile @Nullable List<Burn> burns;
    private volatile List<String> demoActions = List.of();
    private volatile List<OutputState> outputs = List.of();
    private final Map<String, Tested> tests = new ConcurrentHashMap<>();
    private final List<String> tested = new CopyOnWriteArrayList<>();
    private volatile boolean archiveFails;
    private volatile boolean ready = true;
    private volatile Optional<DaemonHealth.ServerHealth> server = Optional.empty();
    private final List<DaemonHealth.UnwatchedForge> unwatched = new CopyOnWriteArrayList<>();
    private volatile double judgedAgoS = 0.02;
    private final Instant begun = Instant.now();
    private final Set<String> silent = ConcurrentHashMap.newKeySet();
    // Guarded by this, as is the order in which snapshots are replaced and told.
    private @Nullable Timer voice;

    /** One forge, as yet without a reading. */
    public ScriptedForge() {
        add(QUARRY, "Quarry forge");
    }

    /** Adds a forge without a reading. */
    public ScriptedForge add(String id, String name) {
        Burner burner = new Burner(Fuel.PROPANE, 0.0009, 0.019, 0.85, 0.03);
        Material block = new Material(
                "block", 600, 1_000, List.of(new Material.ConductivityPoint(873.15, 0.2)), Double.NaN, "invented");
        ForgeDescription description = new ForgeDescription(
                id,
                name,
                1_423.15,
                291.15,
                120,
                burner,
                0.2,
                0.16,
                0.24,
                9,
                List.of(new Layer(block, 0.08)),
                List.of(new Opening("front", 0.09, 0.1, false), new Opening("rear", 0.07, 0.08, true)));
        MonitorSettings limits =
                new MonitorSettings(1_150, 1_240, 1_260, 250, 4e5, 1e3, NO_DATA_AFTER_S, 15, 12, GAS_PRICE);
        faces.add(new ForgeFace(description, limits, "EUR"));
        snapshots.put(
                id,
                new ForgeSnapshot(
                        id,
                        null,
                        BurnPhase.COLD,
                        FlameState.UNAVAILABLE,
                        null,
                        Double.NaN,
                        Double.NaN,
                        null,
                        Double.NaN,
                        Double.NaN,
                        Double.NaN,
                        Double.NaN,
                        null,
                        List.of(),
                        List.of()));
        return this;
    }

    /** Publishes a burning forge at a temperature, °C. */
    public ForgeSnapshot burning(String forge, double chamberC, AlarmStatus... alarms) {
        FlameState flame =
                alarms.length > 0 && alarms[0].alarm() == AlarmId.FLAME_OUT ? FlameState.OUT : FlameState.BURNING;
        return publish(snapshot(forge, chamberC, Quality.GOOD, BurnPhase.HEATING, flame, List.of(alarms), List.of()));
    }

    /** A snapshot of a forge on full gas. */
    public ForgeSnapshot snapshot(
            String forge,
            double chamberC,
            Quality quality,
            BurnPhase phase,
            FlameState flame,
            List<AlarmStatus> alarms,
            List<Reading> more) {
        WallTime now = now();
        double shown = quality.isBad() ? Double.NaN : chamberC;
        Reading chamber = new Reading(new Channel(forge, "chamber"), shown, Unit.CELSIUS, 2.9, quality, now, now);
        Reading gas = new Reading(new Channel(forge, "gas"), 0.82, Unit.BAR, 0.008, Quality.GOOD, now, now);
        List<Reading> latest = new ArrayList<>(List.of(chamber, gas));
        latest.addAll(more);
        WallTime lit = lit();
        return new ForgeSnapshot(
                forge,
                now,
                phase,
                flame,
                chamber,
                14.2,
                1.1,
                gas,
                0.62 / 3_600,
                0.035,
                7_980,
                openingsW(chamberC),
                new Burn(Burn.idOf(forge, lit), forge, lit, null, 1.037, 1_163.4),
                alarms,
                latest);
    }

    /** The same snapshot as it would have been heard some time ago, s. */
    public static ForgeSnapshot aged(ForgeSnapshot now, double ageS) {
        Reading chamber = Objects.requireNonNull(now.chamber());
        WallTime then = chamber.sourceTime().plusSeconds(-ageS);
        Reading old = new Reading(
                chamber.channel(),
                chamber.value(),
                chamber.unit(),
                chamber.standardUncertainty(),
                chamber.quality(),
                then,
                then);
        return new ForgeSnapshot(
                now.forge(),
                then,
                now.phase(),
                now.flame(),
                old,
                now.chamberRateKPerMin(),
                now.chamberRateStandardErrorKPerMin(),
                now.gas(),
                now.gasFlowKgPerS(),
                now.gasFlowRelativeUncertainty(),
                now.heatInputW(),
                now.openingsW(),
                now.burn(),
                now.alarms(),
                List.of(old));
    }

    /** The same snapshot as it would be heard now. */
    public static ForgeSnapshot now(ForgeSnapshot said) {
        return at(said, WallTime.of(Instant.now()));
    }

    private static ForgeSnapshot at(ForgeSnapshot s, WallTime time) {
        return new ForgeSnapshot(
                s.forge(),
                time,
                s.phase(),
                s.flame(),
                s.flameOutProbability(),
                at(s.chamber(), time),
                s.chamberRateKPerMin(),
                s.chamberRateStandardErrorKPerMin(),
                s.steadiness(),
                at(s.gas(), time),
                s.gasFlowKgPerS(),
                s.gasFlowRelativeUncertainty(),
                s.heatInputW(),
                s.openingsW(),
                s.burn(),
                s.conditions(),
                s.alarms(),
                s.latest().stream()
                        .map(reading -> Objects.requireNonNull(at(reading, time)))
                        .toList());
    }

    private static @Nullable Reading at(@Nullable Reading reading, WallTime time) {
        return reading == null
                ? null
                : new Reading(
                        reading.channel(),
                        reading.value(),
                        reading.unit(),
                        reading.standardUncertainty(),
                        reading.quality(),
                        time,
                        time);
    }

    /**
     * From now on each forge that was heard of says again what it said last, as a real one does: what a page says of old
     * readings then never depends on how long a test takes.
     */
    public synchronized void speakOn() {
        if (voice == null) {
            voice = new Timer("voice", true);
            TimerTask again = new TimerTask() {
                @Override
                public void run() {
                    speak();
                }
            };
            voice.schedule(again, VOICE_MS, VOICE_MS);
        }
    }

    /** No forge says anything by itself any more. */
    public synchronized void hush() {
        if (voice != null) {
            voice.cancel();
            voice = null;
        }
    }

    private synchronized void speak() {
        if (voice == null) {
            // The last beat, which waited while somebody silenced it.
            return;
        }
        for (ForgeFace face : faces) {
            ForgeSnapshot last = snapshots.get(face.description().id());
            if (last != null && last.time() != null && !silent.contains(last.forge())) {
                publish(now(last));
            }
        }
    }

    /** One forge says nothing any more; it burned when it was last heard, some time ago, s. */
    public synchronized void fallSilent(String forge, double agoS) {
        silent.add(forge);
        ForgeSnapshot last =
                snapshot(forge, 1_130, Quality.GOOD, BurnPhase.HEATING, FlameState.BURNING, List.of(), List.of());
        publish(aged(last, agoS));
    }

    /** Publishes any snapshot. */
    public synchronized ForgeSnapshot publish(ForgeSnapshot snapshot) {
        snapshots.put(snapshot.forge(), snapshot);
        listeners.forEach(listener -> listener.accept(snapshot));
        return snapshot;
    }

    /** An alarm that calls, raised now. */
    public AlarmStatus alarm(AlarmId id, AlarmState state, Priority priority, double value, String why) {
        return new AlarmStatus(id, state, priority, now(), null, value, why);
    }

    /** The flame gone out while gas flows. */
    public AlarmStatus flameOut() {
        return alarm(
                AlarmId.FLAME_OUT,
                AlarmState.UNACKNOWLEDGED,
                Priority.CRITICAL,
                1_071.4,
                "Gas flows at 0.82 bar and the chamber fell 31 K in 4 s: no flame explains it.");
    }

    public void journal(AlarmTransition step) {
        journal.add(0, step);
    }

    public void offerDemo(String... actions) {
        demoActions = List.of(actions);
    }

    /** This forge as all that a dashboard reads. */
    public Sources sources() {
        return new Sources(this, this, this, this, this, this, this, whatIf, this, this, this);
    }

    /** What changed forges would do. */
    public ScriptedWhatIf whatIf() {
        return whatIf;
    }

    /** What lies ahead of the burn of the first forge. */
    public void ahead(@Nullable Outlook outlook, Score score) {
        this.outlook = outlook;
        this.score = score;
    }

    @Override
    public Optional<Seen> outlook(String forge, double pauseS) {
        Outlook seen = outlook;
        askedPauseS = pauseS;
        return seen == null || !forge.equals(QUARRY)
                ? Optional.empty()
                : Optional.of(new Seen(Burn.idOf(forge, lit()), lit(), fits.containsKey(forge), seen));
    }

    /** The pause that was asked for last, s; NaN for the usual one. */
    public double askedPauseS() {
        return askedPauseS;
    }

    @Override
    public Score score(String forge) {
        return score;
    }

    /** A burn of the first forge that has been fitted; the burn that goes on is taken to have the same fit. */
    public void fitted(String burn, String json) {
        fits.put(burn, json);
        fits.put(QUARRY, json);
    }

    /** Burns of the first forge, newest first, in place of the one of yesterday. */
    public void burnt(Burn... newestFirst) {
        this.burns = List.of(newestFirst);
    }

    /** The fit of an hour of the virtual forge, thinned: heat-up, holding, idling and cooling. */
    public static String fitOfAnHour() {
        return resource("fit.json");
    }

    /** Six burns of the first forge under three sets of settings, their comparisons, and what to try next. */
    public static String threeTrials() {
        return resource("trials.json");
    }

    static String resource(String name) {
        try (InputStream stream = Objects.requireNonNull(ScriptedForge.class.getResourceAsStream(name), name)) {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Losses of the first forge, in order of time. */
    public void losses(BurnLoss... losses) {
        this.losses = List.of(losses);
    }

    /** Outputs in place of none. */
    public void outputs(OutputState... states) {
        outputs = List.of(states);
    }

    /** What a test of an output comes to. */
    public void testOf(String output, Tested result) {
        tests.put(output, result);
    }

    /** Outputs that were tested so far, in order. */
    public List<String> tested() {
        return List.copyOf(tested);
    }

    public void failArchive() {
        archiveFails = true;
    }

    public void notReady() {
        ready = false;
    }

    /** What was done so far. */
    public List<Acted> acted() {
        return List.copyOf(acted);
    }

    public List<Acknowledged> acknowledged() {
        return acted.stream()
                .filter(done -> done.action().kind() == AlarmAction.Kind.ACKNOWLEDGE)
                .map(done -> new Acknowledged(
                        done.forge(), done.action().alarm(), done.action().by()))
                .toList();
    }

    /** What was triggered so far. */
    public List<String> triggered() {
        return List.copyOf(triggered);
    }

    /** Notes so far. */
    public List<Note> notes() {
        return List.copyOf(notes);
    }

    /** Settings so far. */
    public List<Setting> settings() {
        return List.copyOf(settings);
    }

    /** How many listen to the feed. */
    public int listeners() {
        return listeners.size();
    }

    private WallTime lit() {
        return WallTime.of(begun).plusSeconds(-60 * LIT_MINUTES_AGO);
    }

    // Black body through 90 × 100 mm.
    private static double openingsW(double chamberC) {
        return 5.670374419e-8 * 0.009 * Math.pow(chamberC + 273.15, 4);
    }

    @Override
    public List<ForgeFace> forges() {
        return faces;
    }

    @Override
    public Optional<ForgeSnapshot> snapshot(String forge) {
        return Optional.ofNullable(snapshots.get(forge));
    }

    @Override
    public WallTime now() {
        return WallTime.of(Instant.now());
    }

    @Override
    public SnapshotLag lag() {
        return new SnapshotLag(List.of(0.05, 0.1), List.of(90L, 9L, 1L), 4.5);
    }

    @Override
    public double judgedAgoS() {
        return judgedAgoS;
    }

    /** From now on it says that nothing was judged for so long. */
    public void hang(double silentS) {
        judgedAgoS = silentS;
    }

    @Override
    public Subscription subscribe(Consumer<ForgeSnapshot> listener) {
        listeners.add(listener);
        return () -> listeners.remove(listener);
    }

    @Override
    public List<SeriesPoint> series(Channel channel, WallTime from, WallTime to, int maxPoints) {
        if (archiveFails) {
            throw new SourceException("the store cannot be read: its disk is gone", new IllegalStateException("disk"));
        }
        double step = to.secondsSince(from) / maxPoints;
        Random random = new Random(7);
        List<SeriesPoint> points = new ArrayList<>();
        for (int i = 0; i < maxPoints; i++) {
            WallTime time = from.plusSeconds((i + 0.5) * step);
            double minute = time.secondsSince(lit()) / 60;
            double mean = channel.name().equals("gas") ? gasPa(minute) : chamberC(minute);
            double spread = mean * 0.004 * (0.5 + random.nextDouble());
            if (minute > -20) {
                points.add(new SeriesPoint(time, mean - spread, mean, mean + spread));
            }
        }
        return points;
    }

    private static double chamberC(double minute) {
        if (minute < 0) {
            return 18;
        }
        double heatUp = 18 + 1_140 * (1 - Math.exp(-minute / 11));
        double bar = minute > 60 ? -95 * Math.exp(-(minute - 60) / 4) : 0;
        double idle = minute > 80 ? -110 * (1 - Math.exp(-(minute - 80) / 7)) : 0;
        return heatUp + bar + idle;
    }

    private static double gasPa(double minute) {
        if (minute < 0) {
            return 0;
        }
        return minute > 80 ? 3.1e4 : 8.2e4;
    }

    @Override
    public List<Channel> channels(String forge) {
        return List.of(new Channel(forge, "chamber"), new Channel(forge, "gas"));
    }

    @Override
    public List<Note> notes(String forge, WallTime from, WallTime to) {
        return whole(forge).notes().stream()
                .filter(note -> within(note.time(), from, to))
                .toList();
    }

    @Override
    public List<Setting> settings(String forge, WallTime from, WallTime to) {
        return whole(forge).settings().stream()
                .filter(setting -> within(setting.time(), from, to))
                .toList();
    }

    private ResolvedLog whole(String forge) {
        return LogResolver.resolve(
                notes.stream().filter(note -> note.forge().equals(forge)).toList(),
                settings.stream()
                        .filter(setting -> setting.forge().equals(forge))
                        .toList());
    }

    @Override
    public ResolvedLog log(String forge, WallTime from, WallTime to) {
        ResolvedLog whole = whole(forge);
        return new ResolvedLog(
                whole.entries().stream()
                        .filter(entry -> within(entry.key().time(), from, to)
                                || within(entry.now().time(), from, to))
                        .toList(),
                whole.unmatched().stream()
                        .filter(correction -> within(correction.entry().time(), from, to))
                        .toList());
    }

    @Override
    public Map<String, Setting> inForce(String forge, WallTime at) {
        return whole(forge).inForce(at);
    }

    @Override
    public void add(Reading weighing) {
        weighings.add(weighing);
        notes.add(new Note(
                weighing.channel().forge(),
                weighing.sourceTime(),
                weighing.channel().name(),
                Worded.of(weighing.value(), weighing.unit().symbol()).toString()));
    }

    /** Weighings that were handed over so far. */
    public List<Reading> weighings() {
        return List.copyOf(weighings);
    }

    /** A report that says for whom it was made. */
    @Override
    public Optional<byte[]> report(String burnId, Format format, Reader reader) {
        return fits.containsKey(burnId)
                ? Optional.of((format + " of " + burnId + " for " + reader).getBytes(StandardCharsets.UTF_8))
                : Optional.empty();
    }

    @Override
    public byte[] trials(String forge, Asked asked, Format format, Reader reader) {
        return (format + " of " + forge + " for " + asked + " and " + reader).getBytes(StandardCharsets.UTF_8);
    }

    @Override
    public Optional<Export> export(String burnId, Recording recording) {
        return fits.containsKey(burnId)
                ? Optional.of(out -> out.write((recording + " of " + burnId).getBytes(StandardCharsets.UTF_8)))
                : Optional.empty();
    }

    private static boolean within(WallTime time, WallTime from, WallTime to) {
        return !time.isBefore(from) && time.isBefore(to);
    }

    @Override
    public List<AlarmTransition> alarmJournal(String forge, int limit) {
        return journal.stream()
                .filter(step -> step.forge().equals(forge))
                .sorted(Comparator.comparing(AlarmTransition::time).reversed())
                .limit(limit)
                .toList();
    }

    @Override
    public List<Burn> burns(String forge, int limit) {
        List<Burn> told = burns;
        if (told != null) {
            return forge.equals(QUARRY) ? told.subList(0, Math.min(limit, told.size())) : List.of();
        }
        WallTime start = lit().plusSeconds(-86_400);
        return List.of(new Burn(Burn.idOf(forge, start), forge, start, start.plusSeconds(5_400), 0.94, 1_171));
    }

    @Override
    public Optional<String> fitOf(String burnId) {
        return Optional.ofNullable(fits.get(burnId));
    }

    @Override
    public Optional<String> fitNow(String forge) {
        return Optional.ofNullable(fits.get(forge));
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) {
        List<BurnLoss> all = forge.equals(QUARRY) ? losses : List.of();
        return all.subList(Math.max(0, all.size() - limit), all.size());
    }

    /** Trials of the first forge in place of {@link #threeTrials()}. */
    public void trials(String json) {
        trials = json;
    }

    /** What was asked of the trials so far, in order. */
    public List<Asked> askedTrials() {
        return List.copyOf(askedTrials);
    }

    @Override
    public String trials(String forge, Asked asked) {
        askedTrials.add(asked);
        for (String burn : asked.burns()) {
            if (!burn.startsWith(forge + "-")) {
                throw new IllegalArgumentException("burns names \"" + burn + "\", which " + forge + " does not have");
            }
        }
        return trials;
    }

    @Override
    public String csv(String forge, Asked asked) {
        askedTrials.add(asked);
        return "trial,burn,figure\n1,quarry-20260301T100012Z,timeToTarget\n";
    }

    @Override
    public void add(Note note) {
        notes.add(note);
    }

    @Override
    public void add(Setting setting) {
        settings.add(setting);
    }

    @Override
    public synchronized boolean act(String forge, AlarmAction action) {
        ForgeSnapshot now = snapshots.get(forge);
        if (now == null) {
            return false;
        }
        AlarmStatus standing = now.alarms().stream()
                .filter(status -> status.alarm() == action.alarm())
                .findFirst()
                .orElse(null);
        AlarmState state = standing == null ? AlarmState.NORMAL : standing.state();
        boolean applies = switch (action.kind()) {
            case ACKNOWLEDGE -> state.callsForAttention();
            case SHELVE -> isShort(action) && state != AlarmState.OUT_OF_SERVICE;
            case UNSHELVE -> state == AlarmState.SHELVED;
            case TAKE_OUT_OF_SERVICE -> state != AlarmState.OUT_OF_SERVICE;
            case PUT_INTO_SERVICE -> state == AlarmState.OUT_OF_SERVICE;
        };
        if (applies) {
            acted.add(new Acted(forge, action));
            List<AlarmStatus> others = new ArrayList<>(now.alarms());
            others.remove(standing);
            others.addAll(after(action, standing));
            publish(withAlarms(now, others));
        }
        return applies;
    }

    private static boolean isShort(AlarmAction shelve) {
        double most = shelve.alarm().usualPriority() == Priority.CRITICAL ? 900 : 28_800;
        if (shelve.shelfS() > most) {
            throw new IllegalArgumentException("allowed are " + most + " s");
        }
        return true;
    }

    private List<AlarmStatus> after(AlarmAction action, @Nullable AlarmStatus before) {
        AlarmState state = state(action);
        if (state == AlarmState.NORMAL) {
            return List.of();
        }
        WallTime until = state == AlarmState.SHELVED ? now().plusSeconds(action.shelfS()) : null;
        Priority priority = before == null ? action.alarm().usualPriority() : before.priority();
        double value = before == null ? Double.NaN : before.value();
        String why = before == null ? saidOf(action) : before.why();
        return List.of(new AlarmStatus(action.alarm(), state, priority, now(), until, value, why));
    }

    private static AlarmState state(AlarmAction done) {
        return switch (done.kind()) {
            case ACKNOWLEDGE -> AlarmState.ACKNOWLEDGED;
            case SHELVE -> AlarmState.SHELVED;
            case TAKE_OUT_OF_SERVICE -> AlarmState.OUT_OF_SERVICE;
            case UNSHELVE, PUT_INTO_SERVICE -> AlarmState.NORMAL;
        };
    }

    private static String saidOf(AlarmAction action) {
        String done = state(action) == AlarmState.SHELVED ? "Shelved" : "Taken out of service";
        return done + " by " + action.by() + ".";
    }

    private static ForgeSnapshot withAlarms(ForgeSnapshot s, List<AlarmStatus> alarms) {
        return with(s, s.conditions(), alarms);
    }

    /** The same with other slower conditions. */
    public static ForgeSnapshot withConditions(ForgeSnapshot s, ForgeConditions conditions) {
        return with(s, conditions, s.alarms());
    }

    /** The same with another steadiness. */
    public static ForgeSnapshot withSteadiness(ForgeSnapshot s, Steadiness steadiness) {
        return with(s, steadiness, s.conditions(), s.alarms());
    }

    private static ForgeSnapshot with(ForgeSnapshot s, ForgeConditions conditions, List<AlarmStatus> alarms) {
        return with(s, s.steadiness(), conditions, alarms);
    }

    private static ForgeSnapshot with(
            ForgeSnapshot s, Steadiness steadiness, ForgeConditions conditions, List<AlarmStatus> alarms) {
        return new ForgeSnapshot(
                s.forge(),
                s.time(),
                s.phase(),
                s.flame(),
                s.flameOutProbability(),
                s.chamber(),
                s.chamberRateKPerMin(),
                s.chamberRateStandardErrorKPerMin(),
                steadiness,
                s.gas(),
                s.gasFlowKgPerS(),
                s.gasFlowRelativeUncertainty(),
                s.heatInputW(),
                s.openingsW(),
                s.burn(),
                conditions,
                alarms,
                s.latest());
    }

    /** 25 minutes of gas, no sensor at a shell of some 182 °C, and 12.5 hours of the wire above its limit. */
    public static ForgeConditions someConditions() {
        return new ForgeConditions(
                new MinutesLeft(25.3, 18.2, Double.POSITIVE_INFINITY),
                5e4,
                0.0123,
                0.011,
                2.4,
                2.1,
                2,
                600,
                182.3,
                15.2,
                12.5,
                1_090);
    }

    @Override
    public String captureZero(String forge, String channel) {
        return "Zero of " + channel + " taken at 0.498 V, ± 0.002 V.";
    }

    @Override
    public List<String> demoActions() {
        return demoActions;
    }

    @Override
    public void demo(String action) {
        triggered.add(action);
    }

    /** A database server that has been away for an hour at four channels with ten readings a second. */
    public static final DaemonHealth.ServerHealth SERVER_AWAY = new DaemonHealth.ServerHealth(
            false,
            144_000,
            5_400_000,
            3_600,
            Optional.of(new WallTime(1_772_355_600_000_000L)),
            "connection refused",
            12,
            3,
            "field type conflict");

    /** Sets a forge aside as the daemon does; an action on its alarm may follow at once. */
    public void unwatch(String forge, AlarmAction... actions) {
        UnwatchedForge aside = new UnwatchedForge(forge, "This forge is not watched: it hung the daemon.", step -> {});
        aside.advance(now());
        for (AlarmAction action : actions) {
            aside.act(action, now());
        }
        unwatched.add(new DaemonHealth.UnwatchedForge(forge, aside.why()));
        publish(aside.snapshot());
    }

    /** A database server behind the store; none to begin with. */
    public void server(DaemonHealth.ServerHealth now) {
        server = Optional.of(now);
    }

    @Override
    public DaemonHealth health() {
        @Nullable String trouble = ready ? null : "disk full";
        return new DaemonHealth(
                ready,
                List.of(new DaemonHealth.SourceHealth("serial \"A\"", true, "sending", 120, 2, 1, 3)),
                new DaemonHealth.LedgerHealth(judgedAgoS < 5, judgedAgoS, 1, "hung for 5.0 s", unwatched),
                trouble == null ? "ok" : trouble,
                480,
                0,
                server);
    }

    @Override
    public List<OutputState> outputs() {
        return outputs;
    }

    @Override
    public Optional<CompletableFuture<Tested>> test(String name) {
        if (outputs.stream().noneMatch(output -> output.name().equals(name))) {
            return Optional.empty();
        }
        tested.add(name);
        return Optional.of(
                CompletableFuture.completedFuture(tests.getOrDefault(name, new Tested(true, "The peer took it."))));
    }
}
