package org.bankfire.daemon.store.sqlite;

import java.io.PrintStream;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreWriter;

/**
 * A process that writes numbered readings, up to 5,000 a second, until it is killed. It reports on standard output what
 * it has added ({@code A number .}) and what it knows to be durable ({@code D number .}); a line without its
 * full stop was cut by the kill.
 *
 * <p>The writer's clock is the readings' own: a second is 5,000 of them, however long the machine takes for these. Readings
 * stand still, and the clock with them, when a commit is overdue by it, until that commit is through: so a machine that
 * stops the writer's thread for a while adds nothing to what is lost, and a writer that lets more time pass between two
 * commits than it promises waits for ever.
 */
final class NumberedReadings {
    static final WallTime START = new WallTime(1_772_359_200_000_000L);
    static final int PER_SECOND = 5_000;
    static final int PER_MESSAGE = 25;

    /** A commit is due a second after the last; a little more, so that readings go on while it is under way. */
    static final int MOST_SINCE_COMMIT = PER_SECOND + PER_SECOND / 10;

    private static final List<Channel> CHANNELS = List.of(new Channel("shed", "chamber"), new Channel("shed", "gas"));
    /** Word comes from the disk alone. */
    private static final Duration PATIENCE = Duration.ofDays(1);

    private static final long MESSAGE_NANOS = TimeUnit.SECONDS.toNanos(PER_MESSAGE) / PER_SECOND;

    private NumberedReadings() {}

    /** Arguments: file, first number, and whether to ask for word of each message as an MQTT client does. */
    public static void main(String[] arguments) throws Exception {
        PrintStream out = new PrintStream(System.out, true, StandardCharsets.US_ASCII);
        int number = Integer.parseInt(arguments[1]);
        boolean acknowledged = Boolean.parseBoolean(arguments[2]);
        ReadingStore store = reporting(SqliteStore.open(Path.of(arguments[0])), out);
        AtomicLong clock = new AtomicLong();
        StoreWriter writer = new StoreWriter(store, "killed", StoreWriter.Limits.STANDARD, PATIENCE, clock::get);
        long next = System.nanoTime();
        long stored = 0;
        long sinceCommit = 0;
        while (true) {
            long nowStored = writer.health().stored();
            if (nowStored != stored) {
                stored = nowStored;
                sinceCommit = 0;
            }
            if (sinceCommit >= MOST_SINCE_COMMIT) {
                TimeUnit.MILLISECONDS.sleep(1);
                continue;
            }
            for (int i = 0; i < PER_MESSAGE; i++) {
                writer.add(reading(number++));
            }
            clock.addAndGet(MESSAGE_NANOS);
            sinceCommit += PER_MESSAGE;
            int last = number - 1;
            if (acknowledged) {
                writer.whenStored(() -> out.println("D " + last + " ."), () -> {});
            }
            out.println("A " + last + " .");
            next = Math.max(next + MESSAGE_NANOS, System.nanoTime());
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
