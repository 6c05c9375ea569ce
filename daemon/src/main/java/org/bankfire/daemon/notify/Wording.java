package org.bankfire.daemon.notify;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.ledger.EventWriter;
import org.jspecify.annotations.Nullable;

/** Puts what is to be told into words and JSON. */
final class Wording {
    private static final JsonFactory JSON = new JsonFactory();
    private static final DateTimeFormatter LOCAL =
            DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss xxx '('VV')'", Locale.ROOT);
    private static final int MICROS_DIGITS = 6;
    private static final double PASCAL_PER_BAR = 1e5;

    private final Map<String, String> forgeNames;
    private final ZoneId zone;

    /**
     * Words for these forges.
     *
     * @param forgeNames names for the reader, by id
     * @param zone of the reader
     */
    Wording(Map<String, String> forgeNames, ZoneId zone) {
        this.forgeNames = Map.copyOf(forgeNames);
        this.zone = zone;
    }

    Message of(Telling telling) {
        AlarmTransition step = telling.latest();
        String forgeName = forgeNames.getOrDefault(step.forge(), step.forge());
        String title = step.alarm().title();
        String subject = forgeName + ": " + title + turn(step.state());
        boolean stands = step.state() == AlarmState.UNACKNOWLEDGED;
        StringBuilder text = new StringBuilder(subject).append('\n');
        if (step.state().callsForAttention()) {
            text.append("Do first: ").append(FirstSteps.of(step.alarm())).append('\n');
        }
        text.append('\n').append(step.why()).append("\n\n");
        line(text, "Forge", forgeName.equals(step.forge()) ? forgeName : forgeName + " (" + step.forge() + ")");
        line(text, "Time", local(step.time()));
        String value = value(step.alarm(), step.value());
        if (!value.isEmpty()) {
            line(text, "Value", value);
        }
        line(text, "Priority", step.priority().code());
        line(text, "State", step.state().code());
        if (telling.steps() > 1) {
            text.append("\nThis is how it stands now; ")
                    .append(telling.steps() - 1)
                    .append(" earlier steps of this alarm could not be told in time.\n");
        }
        if (telling.again()) {
            text.append("\nIt stood like this before the daemon was started again.\n");
        }
        if (stands) {
            text.append("\nBankfire shuts nothing off: somebody must.\n");
        }
        return new Message(
                step.forge(), telling.gravest(), json(step), subject, text.toString(), facts(step, forgeName));
    }

    /** A message that says it is a test. */
    Message test(String output, WallTime now) {
        String subject = "Bankfire: test of the output " + output;
        String why = "This is a test of the output " + output + ", asked for by a person. Nothing is wrong.";
        String json = object(generator -> {
            time(generator, now);
            generator.writeStringField("kind", "test");
            generator.writeStringField("output", output);
            generator.writeStringField("why", why);
        });
        String text = subject + "\n\n" + why + "\n\nTime: " + local(now) + "\n";
        return new Message(
                null,
                Priority.LOW,
                json,
                subject,
                text,
                Map.of("KIND", "test", "TIME", now.toString(), "SUBJECT", subject, "WHY", why));
    }

    /** How a forge stands, as one JSON object. */
    static String state(ForgeSnapshot snapshot) {
        return object(json -> {
            json.writeStringField("forge", snapshot.forge());
            time(json, snapshot.time());
            json.writeStringField("phase", snapshot.phase().code());
            json.writeStringField("flame", snapshot.flame().code());
            json.writeArrayFieldStart("alarms");
            for (AlarmStatus alarm : snapshot.alarms()) {
                json.writeStartObject();
                json.writeStringField("alarm", alarm.alarm().code());
                json.writeStringField("state", alarm.state().code());
                json.writeStringField("priority", alarm.priority().code());
                json.writeStringField("since", alarm.since().toString());
                json.writeStringField("why", alarm.why());
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    /** One beat of the heart. */
    static String beat(WallTime now, double everyS, boolean logging) {
        return object(json -> {
            time(json, now);
            json.writeNumberField("everyS", everyS);
            json.writeBooleanField("alarms", true);
            json.writeBooleanField("logging", logging);
        });
    }

    private static String turn(AlarmState state) {
        return switch (state) {
            case UNACKNOWLEDGED -> "";
            case RETURNED_UNACKNOWLEDGED -> ", returned, not acknowledged";
            case LATCHED_UNACKNOWLEDGED -> ", its cause has gone, not acknowledged";
            case ACKNOWLEDGED -> ", acknowledged";
            case NORMAL -> ", back to normal";
            case SHELVED -> ", shelved";
            case SUPPRESSED -> ", suppressed";
            case OUT_OF_SERVICE -> ", out of service";
        };
    }

    /** The value with its unit; empty when there is none, or when only the reason can say what it measures. */
    private static String value(AlarmId alarm, double value) {
        if (Double.isNaN(value)) {
            return "";
        }
        return switch (alarm) {
            case FLAME_OUT, CHAMBER_OVER_LIMIT, CHAMBER_HIGH, SHELL_HIGH ->
                String.format(Locale.ROOT, "%.0f °C", value);
            case GAS_LEFT_ON, GAS_PRESSURE_HIGH -> String.format(Locale.ROOT, "%.2f bar", value / PASCAL_PER_BAR);
            case NO_IGNITION, NO_DATA, CLOCK_STEPPED -> String.format(Locale.ROOT, "%.1f s", value);
            case LINING_LOSS_UP -> String.format(Locale.ROOT, "%.2f W/K", value);
            case FIRST_FIRE_RATE,
                    GAS_FALLING,
                    MIXTURE_FLUTTER,
                    CHAMBER_SENSOR_BAD,
                    PRESSURE_SENSOR_BAD,
                    WATCH_LOST,
                    WIRE_OVER_TEMPERATURE,
                    STORE_FAILING,
                    DISK_NEARLY_FULL,
                    DATABASE_UNREACHABLE -> "";
        };
    }

    private static Map<String, String> facts(AlarmTransition step, String forgeName) {
        Map<String, String> facts = new HashMap<>();
        facts.put("KIND", "alarm");
        facts.put("FORGE", step.forge());
        facts.put("FORGE_NAME", forgeName);
        facts.put("ALARM", step.alarm().code());
        facts.put("STATE", step.state().code());
        facts.put("PRIORITY", step.priority().code());
        facts.put("TIME", step.time().toString());
        facts.put("VALUE", value(step.alarm(), step.value()));
        facts.put("WHY", step.why());
        facts.put("FIRST", FirstSteps.of(step.alarm()));
        facts.put("SUBJECT", forgeName + ": " + step.alarm().title() + turn(step.state()));
        return facts;
    }

    /** The very object that {@code replay} writes for this step. */
    private static String json(AlarmTransition step) {
        StringBuilder line = new StringBuilder();
        new EventWriter(line).write(step);
        return line.toString().strip();
    }

    private String local(WallTime time) {
        return LOCAL.format(time.toInstant().atZone(zone));
    }

    private static void line(StringBuilder text, String name, String value) {
        text.append(name).append(": ").append(value).append('\n');
    }

    private static void time(JsonGenerator json, @Nullable WallTime time) throws IOException {
        if (time == null) {
            json.writeNullField("time");
            json.writeNullField("t");
        } else {
            json.writeStringField("time", time.toString());
            json.writeFieldName("t");
            json.writeNumber(BigDecimal.valueOf(time.epochMicros(), MICROS_DIGITS)
                    .stripTrailingZeros()
                    .toPlainString());
        }
    }

    @FunctionalInterface
    private interface Members {
        void write(JsonGenerator json) throws IOException;
    }

    private static String object(Members members) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = JSON.createGenerator(text)) {
            json.writeStartObject();
            members.write(json);
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException("writing JSON to memory", e);
        }
        return text.toString();
    }
}
