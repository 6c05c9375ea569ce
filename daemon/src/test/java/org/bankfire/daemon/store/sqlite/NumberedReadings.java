package org.bankfire.daemon.store.sqlite;

import java.io.PrintStream;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreWriter;

/**
 * A process that writes numbered readings at about 5,000 a second until it is killed. It reports on standard output what
 * it has added ({@code A number .}) and what it knows to be durable ({@code D number .}); a line without its
 * full stop was cut by the kill.
 */
final class NumberedReadings {
    static final WallTime START = new WallTime(1_772_359_200_000_000L);
    static final int PER_SECOND = 5_000;

    private static final List<Channel> CHANNELS = List.of(new Channel("shed", "chamber"), new Channel("shed", "gas"));
    private static final int PER_MESSAGE = 25;

    private NumberedReadings() {}

    /** Arguments: file, first number, and whether to ask for word of each message as an MQTT client does. */
    public static void main(String[] arguments) throws Exception {
        PrintStream out = new PrintStream(System.out, true, StandardCharsets.US_ASCII);
        int number = Integer.parseInt(arguments[1]);
        boolean acknowledged = Boolean.parseBoolean(arguments[2]);
        ReadingStore store = reporting(SqliteStore.open(Path.of(arguments[0])), out);
        StoreWriter writer = new StoreWriter(store, "killed");
        long next = System.nanoTime();
        while (true) {
            for (int i = 0; i < PER_MESSAGE; i++) {
                writer.add(reading(number++));
            }
            int last = number - 1;
            if (acknowledged) {
                writer.whenStored(() -> out.println("D " + last + " ."), () -> {});
            }
            out.println("A " + last + " .");
            next += TimeUnit.SECONDS.toNanos(PER_MESSAGE) / PER_SECOND;
            LockSupport.parkNanos(next - System.nanoTime());
        }
    }

    static Channel channel(int number) {
        return CHANNELS.get(number % CHANNELS.size());
    }

    static Reading reading(int number) {
        WallTime time = START.plusMicros(number * (1_000_000L / PER_SECOND));
        return Reading.good(channel(number), number, Unit.CELSIUS, time, time);
    }

    /** Reports the last number of every batch as soon as the store has returned from it. */
    private static ReadingStore reporting(ReadingStore store, PrintStream out) {
        return (ReadingStore) Proxy.newProxyInstance(
                NumberedReadings.class.getClassLoader(),
                new Class<?>[] {ReadingStore.class},
                (proxy, method, given) -> {
                    try {
                        Object result = method.invoke(store, given);
                        if (given != null
                                && given[0] instanceof StoreBatch batch
                                && !batch.readings().isEmpty()) {
                            List<Reading> readings = batch.readings();
                            out.println("D "
                                    + (int) readings.get(readings.size() - 1).value() + " .");
                        }
                        return result;
                    } catch (InvocationTargetException e) {
                        throw e.getCause();
                    }
                });
    }
}
