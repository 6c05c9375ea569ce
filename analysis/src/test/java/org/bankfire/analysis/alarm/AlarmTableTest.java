package org.bankfire.analysis.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.bankfire.analysis.Fixtures;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Holds the state machine to {@code fixtures/alarms/state-transitions.csv}, cell by cell. */
class AlarmTableTest {
    private static final long SECOND = 1_000_000;
    private static final long ON_THE_SHELF = 60 * SECOND;
    private static final List<String> INPUTS = List.of(
            "raise",
            "graver",
            "clear",
            "acknowledge",
            "shelve",
            "unshelve",
            "shelf-ends",
            "suppress",
            "release",
            "take-out",
            "put-back");

    private final List<AlarmState> told = new ArrayList<>();
    private Priority priority = Priority.HIGH;
    private long now;

    /** One cell. */
    record Cell(String kind, String state, String input, String next) {}

    static Stream<Cell> cells() {
        return Fixtures.rows("alarms/state-transitions.csv").stream()
                .flatMap(row -> INPUTS.stream()
                        .map(input -> new Cell(
                                Fixtures.text(row, "kind"),
                                Fixtures.text(row, "state"),
                                input,
                                Fixtures.text(row, input))));
    }

    @ParameterizedTest
    @MethodSource("cells")
    void everyCell(Cell cell) {
        Alarm alarm = reach(cell);
        assertThat(nameOf(alarm)).as("the way to it").isEqualTo(cell.state());
        told.clear();
        boolean applied = apply(alarm, cell.input());

        boolean nothing = cell.next().equals("=") || cell.next().equals("-");
        String next = nothing ? cell.state() : cell.next().replace("*", "");
        assertThat(nameOf(alarm)).isEqualTo(next);
        assertThat(applied).isEqualTo(!cell.next().equals("-"));
        assertThat(alarm.state()).isEqualTo(seen(next));
        assertThat(told).isEqualTo(cell.next().endsWith("*") ? List.of(seen(next)) : List.of());
    }

    @Test
    void theTableHoldsEveryStateAndNoOtherInput() {
        // Four or five states underneath and eight ways to lie over them; see the head of the table for what cannot be.
        assertThat(cells().map(cell -> cell.kind() + cell.state()).distinct()).hasSize(27 + 32);
        assertThat(Fixtures.rows("alarms/state-transitions.csv").get(0)).hasSize(2 + INPUTS.size());
    }

    private Alarm reach(Cell cell) {
        AlarmId id = cell.kind().equals("latched") ? AlarmId.FLAME_OUT : AlarmId.CHAMBER_SENSOR_BAD;
        Alarm alarm = new Alarm(id, AlarmDelays.NONE, false, context());
        String beneath = cell.state().substring(0, 1);
        if (!beneath.equals("A") && !beneath.equals("b")) {
            apply(alarm, "raise");
        }
        if (beneath.equals("C")) {
            apply(alarm, "acknowledge");
        } else if (beneath.equals("D") || beneath.equals("E")) {
            apply(alarm, "clear");
        }
        String over = cell.state().substring(1);
        if (over.contains("G")) {
            apply(alarm, "shelve");
        }
        if (over.contains("H")) {
            apply(alarm, "suppress");
        }
        if (over.contains("I")) {
            apply(alarm, "take-out");
        }
        if (beneath.equals("b")) {
            apply(alarm, "raise");
        }
        return alarm;
    }

    /** Whether it applied, where the alarm says so. */
    private boolean apply(Alarm alarm, String input) {
        now += SECOND;
        switch (input) {
            case "raise" -> alarm.condition(true, now, 1250);
            case "graver" -> {
                priority = Priority.CRITICAL;
                alarm.condition(true, now, 1270);
            }
            case "clear" -> alarm.condition(false, now, 1200);
            case "suppress" -> alarm.suppress(true, now, "No data.");
            case "release" -> alarm.suppress(false, now, "Data again.");
            case "shelf-ends" -> {
                now += ON_THE_SHELF;
                while (alarm.due() <= now) {
                    alarm.fire(alarm.due());
                }
            }
            case "acknowledge" -> {
                return alarm.acknowledge(now, "Ada");
            }
            case "shelve" -> {
                return alarm.shelve(now, ON_THE_SHELF / SECOND, "Ada");
            }
            case "unshelve" -> {
                return alarm.unshelve(now, "Ada");
            }
            case "take-out" -> {
                return alarm.outOfService(true, now, "Ada");
            }
            case "put-back" -> {
                return alarm.outOfService(false, now, "Ada");
            }
            default -> throw new AssertionError("unknown input " + input);
        }
        return true;
    }

    /** The state by the letters of the table. */
    private static String nameOf(Alarm alarm) {
        String beneath = switch (alarm.beneath()) {
            case NORMAL -> "A";
            case UNACKNOWLEDGED -> alarm.isHeard() || alarm.id().latched() ? "B" : "b";
            case ACKNOWLEDGED -> "C";
            case RETURNED_UNACKNOWLEDGED -> "D";
            case LATCHED_UNACKNOWLEDGED -> "E";
            case SHELVED, SUPPRESSED, OUT_OF_SERVICE -> "?";
        };
        return beneath
                + (alarm.isShelved() ? "G" : "")
                + (alarm.isSuppressed() ? "H" : "")
                + (alarm.isOutOfService() ? "I" : "");
    }

    private static AlarmState seen(String name) {
        return switch (name.charAt(name.length() - 1)) {
            case 'A' -> AlarmState.NORMAL;
            case 'B', 'b' -> AlarmState.UNACKNOWLEDGED;
            case 'C' -> AlarmState.ACKNOWLEDGED;
            case 'D' -> AlarmState.RETURNED_UNACKNOWLEDGED;
            case 'E' -> AlarmState.LATCHED_UNACKNOWLEDGED;
            case 'G' -> AlarmState.SHELVED;
            case 'H' -> AlarmState.SUPPRESSED;
            case 'I' -> AlarmState.OUT_OF_SERVICE;
            default -> throw new AssertionError("unknown state " + name);
        };
    }

    private AlarmContext context() {
        return new AlarmContext() {
            @Override
            public Priority priority(AlarmId alarm) {
                return priority;
            }

            @Override
            public String raised(AlarmId alarm, double value) {
                return "Raised.";
            }

            @Override
            public String cleared(AlarmId alarm, double value) {
                return "Cleared.";
            }

            @Override
            public void onTransition(
                    AlarmId alarm, AlarmState state, Priority graveness, long atMicros, double value, String why) {
                told.add(state);
            }
        };
    }
}
