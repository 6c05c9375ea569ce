package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

/**
 * Random evenings, live with ticks and a user at random moments; then their record, which is the readings and the notes
 * in order of time, through a fresh monitor without a tick.
 */
class AlarmReplayTest {
    private static final int EVENINGS = 30;
    private static final double EVENING_S = 1_800;

    /** Something of a record, and when it was. */
    private record Entry(WallTime time, Object what) {}

    @Test
    void theRecordOfAnEveningGivesTheSameTransitionsAsTheEvening() {
        Set<AlarmState> states = EnumSet.noneOf(AlarmState.class);
        Set<AlarmId> alarms = EnumSet.noneOf(AlarmId.class);
        Set<String> noteNames = new TreeSet<>();
        for (int seed = 0; seed < EVENINGS; seed++) {
            Shed live = new Shed();
            List<Entry> record = evening(new Random(seed), live);
            Shed again = new Shed();
            record.stream()
                    // What users do answers what the readings raised, so it comes after them.
                    .sorted(Comparator.comparing(Entry::time).thenComparing(entry -> entry.what() instanceof Note))
                    .forEach(entry -> give(again, entry.what()));
            assertThat(again.told).as("evening %d", seed).isEqualTo(live.told);
            live.alarms.forEach(step -> {
                states.add(step.state());
                alarms.add(step.alarm());
            });
            record.stream()
                    .filter(entry -> entry.what() instanceof Note)
                    .forEach(entry -> noteNames.add(((Note) entry.what()).name()));
            assertThat(record.stream().map(AlarmReplayTest::key)).doesNotHaveDuplicates();
        }
        // Evenings on which nothing happened would show nothing.
        assertThat(states).isEqualTo(EnumSet.allOf(AlarmState.class));
        assertThat(alarms).hasSizeGreaterThan(8);
        assertThat(noteNames)
                .containsExactlyInAnyOrder(
                        Note.ACKNOWLEDGE, Note.SHELVE, Note.UNSHELVE, Note.OUT_OF_SERVICE, Note.IN_SERVICE);
    }

    /** The store keeps the first of a key. */
    private static String key(Entry entry) {
        return entry.what() instanceof Note note
                ? note.name() + note.time().epochMicros()
                : ((Reading) entry.what()).channel() + " " + entry.time().epochMicros();
    }

    private static List<Entry> evening(Random random, Shed live) {
        List<Entry> record = new ArrayList<>();
        Regime regime = new Regime();
        WallTime daemon = Shed.START;
        for (double second = 0; second < EVENING_S; second += 0.25) {
            if (random.nextInt(60) == 0) {
                regime = Regime.any(random, regime);
            }
            // Up to a fifth of a second on the way: less than the ticks act behind.
            WallTime receipt = Shed.at(second + 0.02 + 0.2 * random.nextDouble());
            while (random.nextInt(3) == 0) {
                daemon = daemon.plusSeconds(Math.max(0, receipt.secondsSince(daemon)) * random.nextDouble());
                if (random.nextInt(10) == 0) {
                    Optional<Note> note = live.monitor.act(anyAction(random, live), daemon);
                    note.ifPresent(kept -> record.add(new Entry(kept.time(), kept)));
                } else {
                    live.monitor.advance(daemon);
                }
            }
            if (receipt.isAfter(daemon)) {
                daemon = receipt;
            }
            if (!regime.silent) {
                for (Reading reading : regime.readings(random, second, daemon)) {
                    record.add(new Entry(reading.sourceTime(), reading));
                    live.monitor.accept(reading);
                }
            }
        }
        Reading last = Shed.chamber(EVENING_S + 1_000, 20);
        record.add(new Entry(last.sourceTime(), last));
        live.monitor.accept(last);
        return record;
    }

    private static AlarmAction anyAction(Random random, Shed live) {
        List<AlarmId> standing = new ArrayList<>(
                live.alarms.stream().map(AlarmTransition::alarm).distinct().toList());
        standing.add(AlarmId.FLAME_OUT);
        standing.add(AlarmId.CHAMBER_SENSOR_BAD);
        AlarmId alarm = standing.get(random.nextInt(standing.size()));
        return switch (random.nextInt(6)) {
            case 0, 1 -> AlarmAction.acknowledge(alarm, "Ada");
            case 2 -> AlarmAction.shelve(alarm, 1 + random.nextInt(300) + random.nextDouble(), "Ada B.");
            case 3 -> AlarmAction.unshelve(alarm, "Ada");
            case 4 -> AlarmAction.outOfService(alarm, true, "Ada");
            default -> AlarmAction.outOfService(alarm, false, "the user");
        };
    }

    private static void give(Shed shed, Object what) {
        if (what instanceof Reading reading) {
            shed.monitor.accept(reading);
        } else {
            shed.monitor.accept((Note) what);
        }
    }

    /** How things are for a while. */
    private static final class Regime {
        boolean silent;
        private double chamberC = 20;
        private double gasPa;
        private double shellC = 30;
        private boolean chamberBad;
        private boolean pressureBad;

        static Regime any(Random random, Regime before) {
            Regime next = new Regime();
            next.gasPa = random.nextInt(3) == 0 ? any(random, 0, 0, 50e3, 150e3, 4.2e5) : before.gasPa;
            next.chamberC = any(random, 20, before.chamberC, before.chamberC, 400, 1_100, 1_245, 1_265);
            next.shellC = any(random, 30, 30, 260);
            next.silent = random.nextInt(8) == 0;
            next.chamberBad = random.nextInt(5) == 0;
            next.pressureBad = random.nextInt(6) == 0;
            return next;
        }

        private static double any(Random random, double... values) {
            return values[random.nextInt(values.length)];
        }

        List<Reading> readings(Random random, double second, WallTime receipt) {
            Reading chamber = chamberBad
                    ? Shed.bad(ChannelNames.CHAMBER, second, Quality.OPEN, Unit.CELSIUS)
                    : Shed.chamber(second, chamberC + random.nextGaussian());
            Reading gas = pressureBad
                    ? Shed.bad(ChannelNames.GAS, second, Quality.RANGE, Unit.PASCAL)
                    : Shed.gas(second, gasPa);
            Reading shell = Shed.reading(ChannelNames.SHELL, second, shellC, Unit.CELSIUS);
            return List.of(received(chamber, receipt), received(gas, receipt), received(shell, receipt));
        }

        private static Reading received(Reading reading, WallTime receipt) {
            return new Reading(
                    reading.channel(),
                    reading.value(),
                    reading.unit(),
                    reading.standardUncertainty(),
                    reading.quality(),
                    reading.sourceTime(),
                    receipt);
        }
    }
}
