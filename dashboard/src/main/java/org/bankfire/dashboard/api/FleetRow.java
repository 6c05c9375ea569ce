package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.steady.Steadiness;
import org.bankfire.dashboard.source.ForgeFace;
import org.jspecify.annotations.Nullable;

/**
 * One forge among many, as coarse as a glance from the door takes it in: a row that says the same again need not be
 * sent again. For the same reason it tells the age of a reading only once that is too old to be called the present.
 *
 * @param attention how much it needs somebody
 * @param chamberC whole °C; NaN when not known
 * @param chamberLevel good, uncertain or bad; empty before the first reading
 * @param gasPa to 1 kPa, below 10 kPa to 0.1 kPa; NaN when not known
 * @param gasUsedKg in the burn in progress, or the last one, to 0.01 kg; NaN when not known
 * @param burning whether that burn goes on
 * @param silentSince time of the latest chamber reading once it is older than the forge allows; null while it is not
 * @param gravest the gravest alarm, one that calls before one that does not; null when none stands
 * @param alarms how many stand
 */
record FleetRow(
        String forge,
        String name,
        Attention attention,
        String phase,
        String flame,
        double chamberC,
        String chamberLevel,
        Trend trend,
        double gasPa,
        double gasUsedKg,
        boolean burning,
        @Nullable WallTime silentSince,
        @Nullable Gravest gravest,
        int alarms) {
    /** How much a forge needs somebody, the most first. */
    enum Attention {
        /** A critical alarm calls. */
        CRITICAL,
        /** Another alarm calls. */
        CALLS,
        /** A critical alarm was acknowledged and its cause is still there. */
        STANDING,
        /** The flame may be out, and no alarm says so yet. */
        FLAME,
        /** It has been heard, but not for as long as its readings may be old. */
        SILENT,
        /** Nothing was heard of it since the daemon started. */
        NEVER,
        NONE
    }

    /** Where the chamber temperature goes. */
    enum Trend {
        UNKNOWN,
        RISING,
        FALLING,
        LEVEL,
        STEADY
    }

    /** An alarm as a row shows it. */
    record Gravest(AlarmId alarm, AlarmState state, Priority priority) {}

    // Below this nobody would look up for it; the page of one forge says it from here on too.
    private static final double LEAST_DOUBT = 0.3;
    // Two-sided 95 % of a normal distribution.
    private static final double COVERAGE_95 = 1.96;
    // Slower than this nobody calls it rising, K/min.
    private static final double LEVEL_K_PER_MIN = 1;
    // A value on the edge between two steps would change its row with every breath: it moves on when it is this far
    // from what was told, in steps.
    private static final double STAYS = 0.75;
    private static final double LOW_GAS_PA = 10_000;

    /**
     * The row of a forge.
     *
     * @param told the row before, whose figures stay as long as they are near enough; null for the first
     */
    static FleetRow of(ForgeFace face, @Nullable ForgeSnapshot snapshot, WallTime now, @Nullable FleetRow told) {
        String id = face.description().id();
        String name = face.description().name();
        Reading chamber = snapshot == null ? null : snapshot.chamber();
        if (snapshot == null || snapshot.time() == null) {
            List<AlarmStatus> alarms = snapshot == null ? List.of() : snapshot.alarms();
            Gravest gravest = gravest(alarms);
            return new FleetRow(
                    id,
                    name,
                    attention(gravest, false, Attention.NEVER),
                    "",
                    "",
                    Double.NaN,
                    "",
                    Trend.UNKNOWN,
                    Double.NaN,
                    Double.NaN,
                    false,
                    null,
                    gravest,
                    alarms.size());
        }
        Gravest gravest = gravest(snapshot.alarms());
        WallTime heard = chamber == null ? snapshot.time() : chamber.sourceTime();
        boolean silent = now.secondsSince(heard) > face.settings().noDataAfterS();
        Burn burn = snapshot.burn();
        double gas = in(snapshot.gas(), Unit.PASCAL);
        return new FleetRow(
                id,
                name,
                attention(gravest, doubtful(snapshot), silent ? Attention.SILENT : Attention.NONE),
                snapshot.phase().code(),
                snapshot.flame().code(),
                settled(in(chamber, Unit.CELSIUS), 1, told == null ? Double.NaN : told.chamberC),
                chamber == null ? "" : chamber.quality().level().name().toLowerCase(Locale.ROOT),
                trend(snapshot),
                settled(gas, gas < LOW_GAS_PA ? 100 : 1_000, told == null ? Double.NaN : told.gasPa),
                burn == null ? Double.NaN : settled(burn.gasUsedKg(), 0.01, Double.NaN),
                burn != null && burn.end() == null,
                silent ? heard : null,
                gravest,
                snapshot.alarms().size());
    }

    private static Attention attention(@Nullable Gravest gravest, boolean doubtful, Attention otherwise) {
        if (gravest != null && gravest.state.callsForAttention()) {
            return gravest.priority == Priority.CRITICAL ? Attention.CRITICAL : Attention.CALLS;
        }
        if (gravest != null && gravest.priority == Priority.CRITICAL && gravest.state == AlarmState.ACKNOWLEDGED) {
            return Attention.STANDING;
        }
        if (gravest != null && gravest.alarm == AlarmId.WATCH_LOST) {
            // Put aside or not: nothing else in the row says that the forge is not watched.
            return Attention.STANDING;
        }
        return doubtful ? Attention.FLAME : otherwise;
    }

    // Out is doubtful here only when no alarm of it calls or stands: shelved, or before its delay.
    private static boolean doubtful(ForgeSnapshot snapshot) {
        boolean outOfService = snapshot.alarms().stream()
                .anyMatch(alarm -> alarm.alarm() == AlarmId.FLAME_OUT && alarm.state() == AlarmState.OUT_OF_SERVICE);
        return !outOfService && (snapshot.flame() == FlameState.OUT || snapshot.flameOutProbability() >= LEAST_DOUBT);
    }

    // The list has the gravest first.
    private static @Nullable Gravest gravest(List<AlarmStatus> alarms) {
        AlarmStatus found = null;
        for (AlarmStatus alarm : alarms) {
            if (found == null || kind(alarm) < kind(found)) {
                found = alarm;
            }
        }
        return found == null ? null : new Gravest(found.alarm(), found.state(), found.priority());
    }

    /** One that calls, one that somebody knows of, one that was put aside. */
    private static int kind(AlarmStatus alarm) {
        if (alarm.state().callsForAttention()) {
            return 0;
        }
        return alarm.state() == AlarmState.ACKNOWLEDGED ? 1 : 2;
    }

    private static Trend trend(ForgeSnapshot snapshot) {
        // A cold chamber holds its temperature as well, which is nothing to say.
        if (snapshot.steadiness().state() == Steadiness.State.STEADY
                && snapshot.phase().isBurning()) {
            return Trend.STEADY;
        }
        double rate = snapshot.chamberRateKPerMin();
        if (Double.isNaN(rate)) {
            return Trend.UNKNOWN;
        }
        double error = snapshot.chamberRateStandardErrorKPerMin();
        double doubt = Double.isNaN(error) ? 0 : COVERAGE_95 * error;
        if (Math.abs(rate) < Math.max(doubt, LEVEL_K_PER_MIN)) {
            return Trend.LEVEL;
        }
        return rate > 0 ? Trend.RISING : Trend.FALLING;
    }

    private static double in(@Nullable Reading reading, Unit unit) {
        return reading == null || reading.quality().isBad()
                ? Double.NaN
                : reading.unit().convert(reading.value(), unit);
    }

    private static double settled(double value, double step, double told) {
        return Math.abs(value - told) < STAYS * step ? told : Math.rint(value / step) * step;
    }

    /** Writes it, with nothing for what is not known. */
    void write(JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("forge", forge);
        json.writeStringField("name", name);
        json.writeStringField("attention", attention.name().toLowerCase(Locale.ROOT));
        if (!phase.isEmpty()) {
            json.writeStringField("phase", phase);
            json.writeStringField("flame", flame);
        }
        if (!chamberLevel.isEmpty()) {
            json.writeStringField("chamberLevel", chamberLevel);
        }
        if (trend != Trend.UNKNOWN) {
            json.writeStringField("trend", trend.name().toLowerCase(Locale.ROOT));
        }
        known(json, "chamberC", chamberC, 0);
        known(json, "gasPa", gasPa, 0);
        known(json, "gasUsedKg", gasUsedKg, 2);
        if (burning) {
            json.writeBooleanField("burning", true);
        }
        if (silentSince != null) {
            json.writeNumberField("silentSinceT", silentSince.epochSeconds());
        }
        if (gravest != null) {
            json.writeObjectFieldStart("alarm");
            json.writeStringField("alarm", gravest.alarm.code());
            json.writeStringField("title", gravest.alarm.title());
            json.writeStringField("state", gravest.state.code());
            json.writeStringField("priority", gravest.priority.code());
            json.writeEndObject();
            json.writeNumberField("alarms", alarms);
        }
        json.writeEndObject();
    }

    private static void known(JsonGenerator json, String field, double value, int decimals) throws IOException {
        if (Double.isFinite(value)) {
            Json.number(json, field, value, decimals);
        }
    }
}
