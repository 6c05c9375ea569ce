package org.bankfire.analysis.monitor;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmContext;
import org.bankfire.analysis.alarm.AlarmDelays;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.burn.BurnListener;
import org.bankfire.analysis.burn.BurnTracker;
import org.bankfire.analysis.burn.TemperatureTrend;
import org.bankfire.analysis.flame.FlameChamber;
import org.bankfire.analysis.flame.FlameTest;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Atmosphere;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * Watches one forge: takes its corrected readings in the order in which they come and tells a {@link ForgeListener} of
 * alarms, burns and disturbances of the stream; {@link #snapshot} shows how things stand.
 *
 * <p>It has no clock. Event time is laid through the source times ({@link EventClock}); what becomes due between two
 * inputs (a delay, a silence, the lighting time) is taken at its exact due time before the next input. {@link #advance}
 * only lets the due things happen when no reading comes, so a replay without ticks gives the same transitions as the live
 * run with them.
 *
 * <p>Not safe for use by several threads.
 */
public final class ForgeMonitor {
    /** Name of the setting that tells the jet's bore, mm. */
    public static final String JET_SETTING = Setting.PREFIX + "jet";

    /** Channels that are followed: four sensors with raw values, faults and calibrations make some thirty. */
    static final int MAX_CHANNELS = 64;

    private static final double MICROS_PER_S = 1e6;
    /** A sensor that has been silent while others speak is given this much longer than the whole source, µs. */
    private static final long STALE_GRACE = 1_000_000;
    /** A restored alarm whose condition nobody confirms within this is taken to be gone, µs. */
    private static final long CONFIRM_WITHIN = 60_000_000;
    /** Good for this long, but for no more than one and a half readings, ends a spell of bad readings, µs. */
    private static final long GOOD_AGAIN = 1_000_000;

    private static final long GOOD_AGAIN_LONGEST = 1_600_000;
    /** Start value of ISA-18.2 for pressures: 2 % of range. */
    private static final double PRESSURE_DEADBAND = 0.02;

    private static final double CELSIUS_ZERO_K = 273.15;

    /**
     * Delays: long enough for a spike to pass, short enough to matter. Start values of ISA-18.2 (60 s for temperatures)
     * suit process vessels; a forge heats by kelvins a second. Common practice, no source.
     */
    private static final Map<AlarmId, AlarmDelays> DELAYS = Map.of(
            AlarmId.GAS_LEFT_ON, new AlarmDelays(45, 0),
            AlarmId.CHAMBER_OVER_LIMIT, new AlarmDelays(1, 5),
            AlarmId.CHAMBER_HIGH, new AlarmDelays(3, 10),
            AlarmId.SHELL_HIGH, new AlarmDelays(5, 30),
            AlarmId.GAS_PRESSURE_HIGH, new AlarmDelays(1, 5),
            AlarmId.CHAMBER_SENSOR_BAD, new AlarmDelays(2.5, 5),
            AlarmId.PRESSURE_SENSOR_BAD, new AlarmDelays(2.5, 5),
            AlarmId.NO_DATA, new AlarmDelays(0, 5));

    private static final List<AlarmId> OF_THE_DAEMON = List.of(
            AlarmId.STORE_FAILING, AlarmId.DISK_NEARLY_FULL, AlarmId.DATABASE_UNREACHABLE, AlarmId.CLOCK_STEPPED);

    private final ForgeDescription description;
    private final MonitorSettings settings;
    private final ForgeListener listener;
    private final AlarmWords words;
    private final EventClock clock;
    private final AlarmBoard board;
    private final TemperatureTrend trend = new TemperatureTrend();
    private final BurnTracker burns;
    private final GasState gas;
    private final OpeningLoss openings;
    private final Fire fire;
    private final SequenceWatch sequence = new SequenceWatch();
    private final Map<AlarmId, String> daemonWords = new EnumMap<>(AlarmId.class);

    private final Map<String, ChannelTrack> channels = new HashMap<>();
    private final List<ChannelTrack> channelOrder = new ArrayList<>();
    private final ChannelTrack chamber = new ChannelTrack(ChannelTrack.Role.CHAMBER);
    private final ChannelTrack pressure = new ChannelTrack(ChannelTrack.Role.GAS);
    private final ChannelTrack witness = new ChannelTrack(ChannelTrack.Role.FLAME);
    private final long noDataAfter;

    private boolean anyReading;
    private boolean silent;
    private boolean watchesFire;
    private long aliveAt;
    private boolean chamberBad;
    private boolean pressureBad;
    private double ambientK;
    private @Nullable String burnId;
    private WallTime burnStart = new WallTime(0);

    /** A forge of which nothing has been heard. */
    public ForgeMonitor(ForgeDescription description, MonitorSettings settings, ForgeListener listener) {
        this.description = description;
        this.settings = settings;
        this.listener = listener;
        this.words = new AlarmWords(settings);
        this.clock = new EventClock();
        this.board = new AlarmBoard(DELAYS, new Context());
        this.burns = new BurnTracker(new Stages());
        this.ambientK = description.ambientK();
        this.gas = new GasState(
                description.burner(),
                settings.gasOnPa(),
                Atmosphere.pressurePa(description.altitudeM()),
                description.ambientK());
        this.openings = new OpeningLoss(description);
        this.fire = new Fire(new FlameTest(FlameChamber.of(description)), burns, gas, settings.lightingTimeS());
        this.noDataAfter = Math.round(settings.noDataAfterS() * MICROS_PER_S);
    }

    /**
     * Takes a corrected reading of this forge. Late readings and duplicates do not move any state; channels beyond
     * {@link #MAX_CHANNELS} are not followed.
     */
    public void accept(Reading reading) {
        if (!reading.channel().forge().equals(description.id())) {
            throw new IllegalArgumentException(
                    "the monitor of forge " + description.id() + " was given " + reading.channel());
        }
        long source = reading.sourceTime().epochMicros();
        if (source > EventClock.FURTHEST || source < -EventClock.FURTHEST) {
            return;
        }
        ChannelTrack track = track(reading.channel().name());
        if (track == null) {
            return;
        }
        boolean first = track.last == null;
        long at = clock.place(track, source, reading.receiptTime().epochMicros(), first);
        if (at == EventClock.LATE) {
            heard(track, clock.now());
            // While it is not yet clear that a clock was set back, the lines still count on.
            if (track.role == ChannelTrack.Role.SEQUENCE && sequence.goesOn(reading.value())) {
                takeSequence(reading, clock.now());
            }
            return;
        }
        runTo(at);
        anyReading = true;
        tellStep();
        track.last = reading;
        heard(track, clock.now());
        take(track, reading, at);
        settle();
    }

    /** Takes a note: an acknowledgement that is replayed, a step of the daemon's clock; others do not concern it. */
    public void accept(Note note) {
        if (note.name().equals(Note.ACKNOWLEDGE)) {
            String text = note.text().strip();
            int space = text.indexOf(' ');
            String code = space < 0 ? text : text.substring(0, space);
            String by = space < 0 ? "the user" : text.substring(space + 1).strip();
            AlarmId.ofCode(code)
                    .ifPresent(alarm ->
                            acknowledgeAt(alarm, clock.ofWall(note.time().epochMicros()), by));
        } else if (note.name().equals(Note.CLOCK_STEP)) {
            double seconds = number(note.text());
            // Further than a thousand years is a typing error.
            if (Math.abs(seconds) < 3e10) {
                clock.daemonStepped(Math.round(seconds * MICROS_PER_S), channelOrder);
                tellStep();
                settle();
            }
        }
    }

    /** Takes a setting: the jet in mm and the plug change what is computed; others do not concern it. */
    public void accept(Setting setting) {
        if (setting.name().equals(JET_SETTING)) {
            Unit unit = setting.unit().isEmpty() ? Unit.MILLIMETRE : Unit.ofSymbol(setting.unit());
            if (unit.quantity() == Unit.Quantity.LENGTH) {
                gas.jet(unit.toSi(number(setting.value())));
            }
        } else if (setting.name().equals(Setting.PLUG)) {
            if (setting.value().equals("in")) {
                openings.plug(true);
            } else if (setting.value().equals("out")) {
                openings.plug(false);
            }
        }
    }

    /**
     * Lets happen what has become due.
     *
     * @param now the daemon's time
     */
    public void advance(WallTime now) {
        long at = clock.ofDaemon(now.epochMicros());
        if (!clock.isRunning()) {
            begin(at);
        }
        runTo(at);
        settle();
    }

    /**
     * The user takes note of an alarm. The daemon keeps it as a note of {@link #acknowledgement}, so that a replay does
     * the same.
     *
     * @param at the daemon's time
     * @param by who
     * @return false when that alarm does not call for it
     */
    public boolean acknowledge(AlarmId alarm, WallTime at, String by) {
        return acknowledgeAt(alarm, clock.ofDaemon(at.epochMicros()), by);
    }

    /**
     * The note to keep of an acknowledgement.
     *
     * @param transition the acknowledgement as the listener heard it, whose time is event time
     * @param by who
     */
    public static Note acknowledgement(AlarmTransition transition, String by) {
        return new Note(
                transition.forge(),
                transition.time(),
                Note.ACKNOWLEDGE,
                transition.alarm().code() + " " + by);
    }

    /**
     * Tells of something that only the daemon can see: store failing, disk nearly full, database unreachable, clock
     * stepped.
     *
     * @param at the daemon's time
     * @param value the value that decides; NaN when there is none
     * @param why the reason, one sentence
     */
    public void condition(AlarmId alarm, boolean active, WallTime at, double value, String why) {
        if (!OF_THE_DAEMON.contains(alarm)) {
            throw new IllegalArgumentException(
                    alarm.code() + " is not the daemon's to tell; allowed are " + OF_THE_DAEMON);
        }
        long time = clock.ofDaemon(at.epochMicros());
        if (!clock.isRunning()) {
            begin(time);
        }
        runTo(time);
        daemonWords.put(alarm, why);
        board.get(alarm).condition(active, clock.now(), value);
        settle();
    }

    /**
     * Takes up the alarms that stood when the daemon stopped; to be called before anything else. Latched alarms stand
     * until they are acknowledged; of the others, those whose condition is not seen again within a minute clear.
     *
     * @param latest the latest transitions of this forge, the newest first
     */
    public void restore(List<AlarmTransition> latest) {
        Map<AlarmId, AlarmTransition> newest = new EnumMap<>(AlarmId.class);
        for (AlarmTransition transition : latest) {
            AlarmTransition known = newest.get(transition.alarm());
            if (transition.forge().equals(description.id())
                    && (known == null || transition.time().isAfter(known.time()))) {
                newest.put(transition.alarm(), transition);
            }
        }
        for (AlarmTransition transition : newest.values()) {
            board.get(transition.alarm()).restore(transition, transition.time().epochMicros());
        }
    }

    /** How things stand. */
    public ForgeSnapshot snapshot() {
        Reading chamberReading = chamber.last;
        Reading gasReading = pressure.last;
        boolean chamberGood = chamber.isUsable() && !silent;
        boolean gasGood = pressure.isUsable() && !silent;
        double flow = gasGood ? gas.flowKgPerS() : Double.NaN;
        List<Reading> latest = new ArrayList<>(channelOrder.size());
        for (ChannelTrack track : channelOrder) {
            if (track.last != null) {
                latest.add(track.last);
            }
        }
        FlameState flame = fire.state(gasGood && !pressureBad, chamberGood && !chamberBad);
        return new ForgeSnapshot(
                description.id(),
                anyReading ? clock.wall(clock.now()) : null,
                burns.phase(),
                flame,
                chamberReading,
                chamberGood ? trend.rateKPerMin() : Double.NaN,
                chamberGood ? trend.standardErrorKPerMin() : Double.NaN,
                gasReading,
                flow,
                gasGood && gasReading != null ? gas.relativeUncertainty(gasReading) : Double.NaN,
                flame == FlameState.OUT ? 0 : flow * description.burner().fuel().lowerHeatingValueJPerKg(),
                chamberGood && chamberReading != null && ChannelTrack.isTemperature(chamberReading)
                        ? openings.watts(ChannelTrack.celsius(chamberReading) + CELSIUS_ZERO_K, ambientK)
                        : Double.NaN,
                burn(),
                board.standing(clock::wall),
                latest);
    }

    private @Nullable ChannelTrack track(String name) {
        ChannelTrack track = channels.get(name);
        if (track == null && channels.size() < MAX_CHANNELS) {
            ChannelTrack.Role role = ChannelTrack.Role.of(name);
            track = switch (role) {
                case CHAMBER -> chamber;
                case GAS -> pressure;
                case FLAME -> witness;
                default -> new ChannelTrack(role);
            };
            channels.put(name, track);
            channelOrder.add(track);
        }
        return track;
    }

    /** Time begins. */
    private void begin(long at) {
        clock.advance(at);
        aliveAt = at;
        for (AlarmId id : AlarmId.values()) {
            board.get(id).expectConfirmation(at + CONFIRM_WITHIN);
        }
    }

    /** Takes everything that is due up to {@code at}, in order, each at its time. */
    private void runTo(long at) {
        if (!clock.isRunning()) {
            begin(at);
        }
        // Every step either ends a deadline or is one of the finitely many that it starts.
        for (long due = due(); due <= at; due = due()) {
            clock.advance(due);
            happen(due);
            settle();
        }
        clock.advance(at);
    }

    private long due() {
        long due = Math.min(board.due(), silenceDue());
        due = Math.min(due, Math.min(staleDue(chamber), Math.min(staleDue(pressure), staleDue(witness))));
        return Math.min(due, lightingDue());
    }

    private void happen(long due) {
        long now = clock.now();
        if (silenceDue() <= due) {
            silent = true;
            board.get(AlarmId.NO_DATA).condition(true, now, (now - aliveAt) / MICROS_PER_S);
        } else if (staleDue(chamber) <= due) {
            chamber.stale = true;
            judgeSensors(now);
        } else if (staleDue(pressure) <= due) {
            pressure.stale = true;
            judgeSensors(now);
        } else if (staleDue(witness) <= due) {
            witness.stale = true;
            fire.onWitnessLost();
        } else if (lightingDue() <= due) {
            fire.lightingOver();
        } else {
            board.fire(now);
        }
    }

    private long silenceDue() {
        if (silent || !clock.isRunning()) {
            return Alarm.NEVER;
        }
        long silence = noDataAfter;
        if (!anyReading) {
            silence = chamber.silence(noDataAfter);
        } else if (watchesFire) {
            // The quickest of the channels that watch the fire tells soonest that their source is gone.
            silence = Math.min(silence(chamber), Math.min(silence(pressure), silence(witness)));
        } else {
            silence = channelOrder.get(0).silence(noDataAfter);
        }
        return aliveAt + silence + 1;
    }

    private long silence(ChannelTrack track) {
        return track.last == null ? Alarm.NEVER / 2 : track.silence(noDataAfter);
    }

    private long staleDue(ChannelTrack track) {
        return track.last == null || track.stale || silent
                ? Alarm.NEVER
                : track.aliveAt + track.silence(noDataAfter) + STALE_GRACE + 1;
    }

    private long lightingDue() {
        return fire.lightingDue(chamber.isUsable() && !chamberBad && !silent, chamber.goodSince);
    }

    /** Something came in of that channel. */
    private void heard(ChannelTrack track, long now) {
        track.aliveAt = now;
        if (!track.role.watchesTheFire() && watchesFire) {
            return;
        }
        watchesFire = track.role.watchesTheFire();
        double goneS = (now - aliveAt) / MICROS_PER_S;
        aliveAt = now;
        if (silent) {
            silent = false;
            // What was silent with the source is given its time again.
            chamber.aliveAt = now;
            pressure.aliveAt = now;
            witness.aliveAt = now;
            board.get(AlarmId.NO_DATA).condition(false, now, goneS);
        }
    }

    private void take(ChannelTrack track, Reading reading, long at) {
        long now = clock.now();
        boolean bad = reading.quality().isBad();
        switch (track.role) {
            case CHAMBER -> takeChamber(reading, at, now, bad || !ChannelTrack.isTemperature(reading));
            case GAS -> takeGas(reading, at, now, bad || reading.unit().quantity() != Unit.Quantity.PRESSURE);
            case SHELL -> {
                if (!bad && ChannelTrack.isTemperature(reading)) {
                    judgeHigh(
                            AlarmId.SHELL_HIGH,
                            now,
                            ChannelTrack.celsius(reading),
                            settings.shellLimitC(),
                            settings.temperatureDeadbandK());
                }
            }
            case FLAME -> {
                track.stale = false;
                if (bad) {
                    fire.onWitnessLost();
                } else {
                    fire.onWitness(at, reading.value());
                }
            }
            case AMBIENT -> {
                if (!bad && ChannelTrack.isTemperature(reading)) {
                    ambientK = ChannelTrack.celsius(reading) + CELSIUS_ZERO_K;
                }
            }
            case GAS_TEMPERATURE -> {
                if (!bad && ChannelTrack.isTemperature(reading)) {
                    gas.gasTemperature(ChannelTrack.celsius(reading) + CELSIUS_ZERO_K);
                }
            }
            case SEQUENCE -> {
                if (!bad) {
                    takeSequence(reading, now);
                }
            }
            case OTHER -> {}
        }
    }

    private void takeChamber(Reading reading, long at, long now, boolean bad) {
        chamber.stale = false;
        followQuality(chamber, now, bad);
        if (!bad) {
            double celsius = ChannelTrack.celsius(reading);
            trend.add(at, celsius);
            judgeHigh(
                    AlarmId.CHAMBER_OVER_LIMIT,
                    now,
                    celsius,
                    settings.chamberLimitC(),
                    settings.temperatureDeadbandK());
            judgeHigh(AlarmId.CHAMBER_HIGH, now, celsius, settings.chamberHighC(), settings.temperatureDeadbandK());
            fire.onChamber(now, at, celsius, trend, !Double.isNaN(gas.gaugePa()), pressure.isUsable());
        }
        judgeSensors(now);
    }

    private void takeGas(Reading reading, long at, long now, boolean bad) {
        pressure.stale = false;
        followQuality(pressure, now, bad);
        if (!bad) {
            double pascal = reading.unit().equals(Unit.PASCAL) ? reading.value() : reading.siValue();
            boolean changed = gas.accept(at, pascal);
            judgeHigh(
                    AlarmId.GAS_PRESSURE_HIGH,
                    now,
                    pascal,
                    settings.gasLimitPa(),
                    PRESSURE_DEADBAND * settings.gasLimitPa());
            fire.onGas(now, at, changed);
        }
        judgeSensors(now);
    }

    private static void followQuality(ChannelTrack track, long now, boolean bad) {
        if (bad) {
            track.badAt = now;
            track.goodSince = Alarm.NEVER / 2;
        } else if (track.goodSince == 0 || track.goodSince == Alarm.NEVER / 2) {
            track.goodSince = now;
        }
    }

    private void takeSequence(Reading reading, long now) {
        long lost = sequence.accept(reading.value());
        if (lost == SequenceWatch.RESTARTED) {
            tell(now, SourceEvent.Kind.RESTARTED, Double.NaN, "The source began to number its lines anew.");
        } else if (lost > 0) {
            tell(
                    now,
                    SourceEvent.Kind.LINES_LOST,
                    (double) lost,
                    lost == 1 ? "One line was lost on the way." : lost + " lines were lost on the way.");
        }
    }

    private void judgeHigh(AlarmId id, long now, double value, double limit, double deadband) {
        Alarm alarm = board.get(id);
        boolean holds = value > limit || (alarm.conditionHolds() && value >= limit - deadband);
        // While the delay runs the highest value is what raises it: noise may end it just inside the deadband.
        boolean waits = holds && alarm.conditionHolds() && !alarm.isActive();
        alarm.condition(holds, now, waits ? Math.max(value, alarm.latestValue()) : value);
    }

    private void judgeSensors(long now) {
        chamberBad = isBad(chamber, chamberBad, now);
        pressureBad = isBad(pressure, pressureBad, now);
        board.get(AlarmId.CHAMBER_SENSOR_BAD).condition(chamberBad, now, Double.NaN);
        board.get(AlarmId.PRESSURE_SENSOR_BAD).condition(pressureBad, now, Double.NaN);
    }

    private static boolean isBad(ChannelTrack track, boolean before, long now) {
        if (track.last == null) {
            return false;
        }
        if (track.stale || track.goodSince > now) {
            return true;
        }
        long again = Math.max(GOOD_AGAIN, Math.min(track.interval * 3 / 2, GOOD_AGAIN_LONGEST));
        return before && now - track.goodSince < again;
    }

    /** Judges what follows from the fire's state, and holds back what is only the consequence of something else. */
    private void settle() {
        long now = clock.now();
        boolean out = fire.isFlameOut();
        boolean notIgniting = fire.isNotIgniting();
        board.get(AlarmId.FLAME_OUT).condition(out, now, chamberC());
        board.get(AlarmId.NO_IGNITION).condition(notIgniting, now, fire.gasOnForS(now));
        board.get(AlarmId.GAS_LEFT_ON).condition(out || notIgniting, now, gas.gaugePa());
        AlarmId cause = blindness();
        holdBack(AlarmId.FLAME_OUT, cause, now);
        holdBack(AlarmId.NO_IGNITION, cause, now);
    }

    /** What keeps the flame from being judged while it matters. */
    private @Nullable AlarmId blindness() {
        if (!isDangerous()) {
            return null;
        }
        if (board.get(AlarmId.NO_DATA).isActive()) {
            return AlarmId.NO_DATA;
        }
        if (board.get(AlarmId.CHAMBER_SENSOR_BAD).isActive()) {
            return AlarmId.CHAMBER_SENSOR_BAD;
        }
        return board.get(AlarmId.PRESSURE_SENSOR_BAD).isActive() ? AlarmId.PRESSURE_SENSOR_BAD : null;
    }

    private void holdBack(AlarmId id, @Nullable AlarmId cause, long now) {
        Alarm alarm = board.get(id);
        if (cause == null) {
            alarm.suppress(false, now, "The flame can be judged again.");
        } else if (alarm.state() == AlarmState.NORMAL) {
            alarm.suppress(true, now, "Held back, because the flame cannot be judged: " + cause.title() + ".");
        }
    }

    /** Gas flows or it burns, as far as was last known. */
    private boolean isDangerous() {
        return gas.isFlowing() || burns.isBurning();
    }

    private double chamberC() {
        Reading reading = chamber.last;
        return reading != null && ChannelTrack.isTemperature(reading) ? ChannelTrack.celsius(reading) : Double.NaN;
    }

    private boolean acknowledgeAt(AlarmId alarm, long at, String by) {
        if (!clock.isRunning()) {
            begin(at);
        }
        runTo(Math.max(at, clock.now()));
        boolean done = board.get(alarm).acknowledge(clock.now(), by);
        settle();
        return done;
    }

    /** Tells of a step of a clock that has just been bridged. */
    private void tellStep() {
        double seconds = clock.takeStepS();
        if (Double.isNaN(seconds)) {
            return;
        }
        long now = clock.now();
        String why = "The clock that stamps the readings was set; what is computed goes on without a step.";
        tell(now, SourceEvent.Kind.CLOCK_STEPPED, seconds, why);
        if (clock.isRunning()) {
            daemonWords.put(AlarmId.CLOCK_STEPPED, "");
            Alarm alarm = board.get(AlarmId.CLOCK_STEPPED);
            alarm.condition(true, now, seconds);
            alarm.condition(false, now, seconds);
        }
    }

    private void tell(long now, SourceEvent.Kind kind, double value, String why) {
        listener.onSource(new SourceEvent(description.id(), clock.wall(now), kind, value, why));
    }

    private @Nullable Burn burn() {
        String id = burnId;
        if (id == null) {
            return null;
        }
        WallTime end = burns.isBurning() ? null : clock.wall(burns.endMicros());
        return new Burn(id, description.id(), burnStart, end, burns.gasUsedKg(), burns.peakC());
    }

    private static double number(String text) {
        try {
            return Double.parseDouble(text.strip());
        } catch (NumberFormatException e) {
            return Double.NaN;
        }
    }

    /** Answers the alarms. */
    private final class Context implements AlarmContext {
        @Override
        public Priority priority(AlarmId alarm) {
            boolean graver = alarm == AlarmId.CHAMBER_SENSOR_BAD || alarm == AlarmId.NO_DATA;
            return graver && isDangerous() ? Priority.CRITICAL : alarm.usualPriority();
        }

        @Override
        public String raised(AlarmId alarm, double value) {
            return words.raised(alarm, value, detail(alarm));
        }

        @Override
        public String cleared(AlarmId alarm, double value) {
            return switch (alarm) {
                case FLAME_OUT, NO_IGNITION, GAS_LEFT_ON ->
                    words.cleared(alarm, value, gas.isFlowing() ? "It burns." : "The gas is off.");
                default -> words.cleared(alarm, value, detail(alarm));
            };
        }

        @Override
        public void onTransition(
                AlarmId alarm, AlarmState state, Priority priority, long atMicros, double value, String why) {
            listener.onAlarm(
                    new AlarmTransition(description.id(), clock.wall(atMicros), alarm, state, priority, value, why));
        }

        private String detail(AlarmId alarm) {
            return switch (alarm) {
                case CHAMBER_SENSOR_BAD -> sensor("chamber", chamber);
                case PRESSURE_SENSOR_BAD -> sensor("pressure", pressure);
                case NO_DATA ->
                    isDangerous()
                            ? "It burned or gas flowed when last heard: watch the fire yourself, or close the gas."
                            : "";
                case FLAME_OUT, NO_IGNITION, GAS_LEFT_ON -> "";
                default -> daemonWords.getOrDefault(alarm, "");
            };
        }

        private String sensor(String name, ChannelTrack track) {
            Reading last = track.last;
            String state = track.stale || last == null
                    ? "silent while other readings come in"
                    : last.quality().isBad() ? last.quality().words() : "coming and going";
            String what = "The " + name + " sensor is " + state + ".";
            return isDangerous()
                    ? what + " A flame-out would not be seen: watch the fire yourself, or close the gas."
                    : what;
        }
    }

    /** Passes on what the burns do. */
    private final class Stages implements BurnListener {
        @Override
        public void onStage(BurnBoundary.Stage stage, long atMicros, String why) {
            if (stage == BurnBoundary.Stage.LIT) {
                burnStart = clock.wall(burns.startMicros());
                burnId = Burn.idOf(description.id(), burnStart);
            }
            String id = burnId;
            if (id != null) {
                listener.onBurnBoundary(
                        new BurnBoundary(description.id(), id, clock.wall(atMicros), stage, chamberC(), why));
            }
        }

        @Override
        public void onProgress(long atMicros) {
            Burn burn = burn();
            if (burn != null) {
                listener.onBurn(burn);
            }
        }
    }
}
