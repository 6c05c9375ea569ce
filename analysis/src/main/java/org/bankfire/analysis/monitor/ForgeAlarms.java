package org.bankfire.analysis.monitor;

import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmContext;
import org.bankfire.analysis.alarm.AlarmDelays;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;

/**
 * The alarms of one forge as a whole: their delays, how grave they are as things stand, in what words their transitions
 * are told, how they outlive a restart, and those whose conditions only the daemon can see. The other conditions are
 * judged elsewhere.
 */
final class ForgeAlarms {
    /** A restored alarm whose condition nobody confirms within this is taken to be gone, µs. */
    private static final long CONFIRM_WITHIN = 60_000_000;

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
            AlarmId.STORE_FAILING,
            AlarmId.DISK_NEARLY_FULL,
            AlarmId.DATABASE_UNREACHABLE,
            AlarmId.CLOCK_STEPPED,
            AlarmId.LINING_LOSS_UP);

    private final String forge;
    private final EventClock clock;
    private final Channels channels;
    private final Fire fire;
    private final GasState gas;
    private final AlarmWords words;
    private final ForgeListener listener;
    private final AlarmBoard board = new AlarmBoard(delays(), new Context());
    private final Map<AlarmId, String> daemonWords = new EnumMap<>(AlarmId.class);
    private final Map<AlarmId, ConditionWords> ownWords = new EnumMap<>(AlarmId.class);

    ForgeAlarms(
            String forge,
            EventClock clock,
            Channels channels,
            Fire fire,
            GasState gas,
            AlarmWords words,
            ForgeListener listener) {
        this.forge = forge;
        this.clock = clock;
        this.channels = channels;
        this.fire = fire;
        this.gas = gas;
        this.words = words;
        this.listener = listener;
    }

    AlarmBoard board() {
        return board;
    }

    private static Map<AlarmId, AlarmDelays> delays() {
        Map<AlarmId, AlarmDelays> all = new EnumMap<>(DELAYS);
        all.putAll(Conditions.DELAYS);
        return all;
    }

    /** Has an alarm's transitions told by the part that judges it. */
    void tellBy(AlarmId alarm, ConditionWords tells) {
        ownWords.put(alarm, tells);
    }

    /** Time begins: what was restored must now be confirmed. */
    void begin(long at) {
        for (AlarmId id : AlarmId.values()) {
            board.get(id).begin(at, at + CONFIRM_WITHIN);
        }
    }

    /**
     * Takes up alarms as they stood.
     *
     * @param latest transitions, the newest first
     * @param notes in order of time; those that tell of shelves matter
     */
    void restore(List<AlarmTransition> latest, List<Note> notes) {
        restore(board, forge, latest, notes);
    }

    /** Takes up the alarms of {@code forge} on its {@code board}, as above. */
    static void restore(AlarmBoard board, String forge, List<AlarmTransition> latest, List<Note> notes) {
        for (int i = latest.size() - 1; i >= 0; i--) {
            AlarmTransition step = latest.get(i);
            if (step.forge().equals(forge)) {
                board.get(step.alarm()).restore(step, step.time().epochMicros());
            }
        }
        Map<AlarmId, Note> shelves = new EnumMap<>(AlarmId.class);
        for (Note note : notes) {
            if (note.forge().equals(forge)
                    && (note.name().equals(Note.SHELVE) || note.name().equals(Note.UNSHELVE))) {
                AlarmAction.of(note).ifPresent(action -> shelves.put(action.alarm(), note));
            }
        }
        for (Note note : shelves.values()) {
            AlarmAction.of(note)
                    .filter(action -> action.kind() == AlarmAction.Kind.SHELVE)
                    .ifPresent(action ->
                            board.get(action.alarm()).restoreShelf(note.time().epochMicros(), action.shelfS()));
        }
    }

    /**
     * Does what the user asks.
     *
     * @return false when it does not apply as the alarm stands
     */
    boolean act(AlarmAction action, long now) {
        return act(board, action, now);
    }

    /** Does what the user asks about an alarm of this {@code board}, as above. */
    static boolean act(AlarmBoard board, AlarmAction action, long now) {
        Alarm alarm = board.get(action.alarm());
        return switch (action.kind()) {
            case ACKNOWLEDGE -> alarm.acknowledge(now, action.by());
            case SHELVE -> alarm.shelve(now, action.shelfS(), action.by());
            case UNSHELVE -> alarm.unshelve(now, action.by());
            case TAKE_OUT_OF_SERVICE -> alarm.outOfService(true, now, action.by());
            case PUT_INTO_SERVICE -> alarm.outOfService(false, now, action.by());
        };
    }

    /** The alarms that are not in normal state, the gravest first. */
    List<AlarmStatus> standing() {
        return board.standing(clock::wall);
    }

    /** @throws IllegalArgumentException when that alarm's condition is not the daemon's to tell */
    static void checkOfTheDaemon(AlarmId alarm) {
        if (!OF_THE_DAEMON.contains(alarm)) {
            throw new IllegalArgumentException(
                    alarm.code() + " is not the daemon's to tell; allowed are " + OF_THE_DAEMON);
        }
    }

    /** A condition that only the daemon can see. */
    void ofTheDaemon(AlarmId alarm, boolean active, long now, double value, String why) {
        daemonWords.put(alarm, why);
        board.get(alarm).condition(active, now, value);
    }

    /** The clock that stamps the readings was set: news, but nothing that lasts. */
    void clockStepped(long now, double seconds) {
        daemonWords.put(AlarmId.CLOCK_STEPPED, "");
        Alarm alarm = board.get(AlarmId.CLOCK_STEPPED);
        alarm.condition(true, now, seconds);
        alarm.condition(false, now, seconds);
    }

    /** Answers the alarms. */
    private final class Context implements AlarmContext {
        @Override
        public Priority priority(AlarmId alarm) {
            boolean graver = alarm == AlarmId.CHAMBER_SENSOR_BAD || alarm == AlarmId.NO_DATA;
            return graver && fire.isDangerous() ? Priority.CRITICAL : alarm.usualPriority();
        }

        @Override
        public String raised(AlarmId alarm, double value) {
            ConditionWords own = ownWords.get(alarm);
            String told = own == null ? null : own.raised(value);
            return told == null ? words.raised(alarm, value, detail(alarm)) : told;
        }

        @Override
        public String cleared(AlarmId alarm, double value) {
            ConditionWords own = ownWords.get(alarm);
            String told = own == null ? null : own.cleared(value);
            if (told != null) {
                return told;
            }
            return switch (alarm) {
                case FLAME_OUT, NO_IGNITION, GAS_LEFT_ON ->
                    words.cleared(alarm, value, gas.isFlowing() ? "It burns." : "The gas is off.");
                default -> words.cleared(alarm, value, detail(alarm));
            };
        }

        @Override
        public void onTransition(
                AlarmId alarm, AlarmState state, Priority priority, long atMicros, double value, String why) {
            listener.onAlarm(new AlarmTransition(forge, clock.wall(atMicros), alarm, state, priority, value, why));
        }

        private String detail(AlarmId alarm) {
            return switch (alarm) {
                case CHAMBER_SENSOR_BAD -> sensor("chamber", channels.chamber);
                case PRESSURE_SENSOR_BAD -> sensor("pressure", channels.pressure);
                case NO_DATA ->
                    fire.isDangerous()
                            ? "It burned or gas flowed when last heard: watch the fire yourself, or close the gas."
                            : "";
                case FLAME_OUT -> sure(fire.outCertainty());
                case NO_IGNITION, GAS_LEFT_ON -> "";
                default -> daemonWords.getOrDefault(alarm, "");
            };
        }

        private static String sure(double certainty) {
            return Double.isNaN(certainty)
                    ? ""
                    : String.format(Locale.ROOT, "By the fall of the temperature, %.0f %% sure.", 100 * certainty);
        }

        private String sensor(String name, ChannelTrack track) {
            Reading last = track.last;
            String state = track.stale || last == null
                    ? "silent while other readings come in"
                    : last.quality().isBad() ? last.quality().words() : "coming and going";
            String what = "The " + name + " sensor is " + state + ".";
            return fire.isDangerous()
                    ? what + " A flame-out would not be seen: watch the fire yourself, or close the gas."
                    : what;
        }
    }
}
