package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ForgeMonitorFuzzTest {
    private static final List<String> NAMES = List.of(
            ChannelNames.CHAMBER,
            ChannelNames.GAS,
            ChannelNames.SHELL,
            ChannelNames.FLAME,
            ChannelNames.AMBIENT,
            ChannelNames.GAS_TEMPERATURE,
            ChannelNames.SEQUENCE,
            "other");
    private static final List<Unit> UNITS =
            List.of(Unit.CELSIUS, Unit.KELVIN, Unit.PASCAL, Unit.BAR, Unit.NONE, Unit.ofSymbol("furlong"));

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
    void nothingThatComesInMakesItFail(int seed) {
        Random random = new Random(seed);
        Shed shed = new Shed(random.nextInt(3) * 15);
        long source = Shed.START.epochMicros();
        long receipt = source;
        for (int i = 0; i < 20_000; i++) {
            source += step(random);
            receipt += step(random);
            WallTime time = new WallTime(source);
            switch (random.nextInt(40)) {
                case 0 -> shed.monitor.advance(new WallTime(receipt));
                case 1 -> shed.monitor.accept(new Note(Shed.ID, time, Note.CLOCK_STEP, text(random)));
                case 2 -> shed.monitor.accept(new Note(Shed.ID, time, Note.ACKNOWLEDGE, text(random)));
                case 3 -> shed.monitor.accept(new Setting(Shed.ID, time, "setting-jet", text(random), "mm"));
                case 4 -> shed.monitor.accept(new Setting(Shed.ID, time, Setting.PLUG, text(random), ""));
                case 5 ->
                    shed.monitor.condition(
                            AlarmId.STORE_FAILING, random.nextBoolean(), new WallTime(receipt), 1, "The store fails.");
                case 6 ->
                    shed.monitor.acknowledge(any(random, List.of(AlarmId.values())), new WallTime(receipt), "Ada");
                case 7 -> assertThat(shed.monitor.snapshot().latest()).hasSizeLessThanOrEqualTo(NAMES.size());
                default -> shed.monitor.accept(reading(random, time, new WallTime(receipt)));
            }
            if (random.nextInt(2_000) == 0) {
                source = random.nextBoolean() ? Shed.START.epochMicros() : random.nextLong();
            }
        }
        // It works on when reason returns.
        shed.steady(0, 30, 20, 0);
        shed.steady(30, 60, 20, 0);
        assertThat(shed.monitor.snapshot().latest()).isNotEmpty();
    }

    private static Reading reading(Random random, WallTime source, WallTime receipt) {
        Channel channel = new Channel(Shed.ID, any(random, NAMES));
        Quality quality = random.nextInt(4) == 0 ? any(random, List.of(Quality.values())) : Quality.GOOD;
        double value = quality.isBad() && random.nextBoolean()
                ? Double.NaN
                : switch (random.nextInt(6)) {
                    case 0 -> Double.MAX_VALUE;
                    case 1 -> -Double.MAX_VALUE;
                    case 2 -> 0;
                    default -> random.nextDouble() * 1e5 - 300;
                };
        return new Reading(channel, value, any(random, UNITS), Double.NaN, quality, source, receipt);
    }

    private static long step(Random random) {
        return switch (random.nextInt(200)) {
            case 0 -> 3_600_000_000L;
            case 1 -> -3_600_000_000L;
            case 2 -> random.nextLong() / 1000;
            case 3, 4, 5 -> -250_000;
            case 6, 7, 8 -> 0;
            default -> 250_000;
        };
    }

    private static String text(Random random) {
        return any(random, List.of("", "NaN", "1e300", "-12.5", "in", "out", "flame-out", "flame-out by Ada", "1.2"));
    }

    private static <T> T any(Random random, List<T> values) {
        return values.get(random.nextInt(values.size()));
    }
}
