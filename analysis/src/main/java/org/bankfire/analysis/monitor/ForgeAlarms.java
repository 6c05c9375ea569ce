package org.bankfire.analysis.monitor;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmContext;
import org.bankfire.analysis.alarm.AlarmDelays;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
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
    private final AlarmBoard board = new AlarmBoard(DELAYS, new Context());
    private final Map<AlarmId, String> daemonWords = new EnumMap<>(AlarmId.class);

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

    /** Time begins: what was restored must now be confirmed. */
    void begin(long at) {
        for (AlarmId id : AlarmId.values()) {
            board.get(id).expectConfirmation(at + CONFIRM_WITHIN);
        }
    }

    /** Takes up alarms as they stood, each by the latest of its transitions. */
    void restore(List<AlarmTransition> latest) {
        Map<AlarmId, AlarmTransition> newest = new EnumMap<>(AlarmId.class);
        for (AlarmTransition transition : latest) {
            AlarmTransition known = newest.get(transition.alarm());
            if (transition.forge().equals(forge)
                    && (known == null || transition.time().isAfter(known.time()))) {
                newest.put(transition.alarm(), transition);
            }
        }
        for (AlarmTransition transition : newest.values()) {
            board.get(transition.alarm()).restore(transition, transition.time().epochMicros());
        }
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
            return fire.isDangerous()
                    ? what + " A flame-out would not be seen: watch the fire yourself, or close the gas."
                    : what;
        }
    }
}
