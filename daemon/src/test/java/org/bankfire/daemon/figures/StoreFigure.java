package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.sqlite.SQLiteConfig;

/**
 * Readings into a new database until they are durable: by the store with its writer's thread, names, qualities and two
 * roll-ups, and by the bare driver into a table of the same columns and key, as numbers, without any of that.
 */
final class StoreFigure {
    private static final List<String> CHANNELS = List.of("chamber", "gas", "shell", "ambient");
    /** A club's forges. */
    private static final int FORGES = 20;

    private static final long STEP_US = 100_000;
    private static final double TARGET = 0.7;
    private static final int OUR_BATCH = 5_000;

    private final Path folder;
    private final List<Reading> readings;
    private int files;

    private StoreFigure(Path folder, int count) {
        this.folder = folder;
        this.readings = readings(count);
    }

    static List<Figure> figures(Path folder, int count, int rounds) throws Exception {
        StoreFigure store = new StoreFigure(folder, count);
        Duel.Result small = Duel.of(rounds, store::ours, () -> store.bare(1_000));
        Duel.Result large = Duel.of(rounds, store::ours, () -> store.bare(OUR_BATCH));
        return List.of(row(small, 1_000), row(large, OUR_BATCH));
    }

    private static Figure row(Duel.Result result, int batch) {
        return result.figure(
                "store, roll-ups included, durable",
                "readings/s",
                "bare sqlite-jdbc, " + batch + " a transaction",
                "≥ 0.7",
                Figure.Verdict.of(result.ratio() >= TARGET));
    }

    private static List<Reading> readings(int count) {
        List<Channel> channels = new ArrayList<>();
        for (int forge = 0; forge < FORGES; forge++) {
            for (String name : CHANNELS) {
                channels.add(new Channel(FleetSender.id(forge), name));
            }
        }
        Random random = new Random(1);
        List<Reading> readings = new ArrayList<>(count);
        for (int i = 0; i < count; i++) {
            long time = 1_772_359_200_000_000L + i / channels.size() * STEP_US;
            readings.add(new Reading(
                    channels.get(i % channels.size()),
                    1_000 + random.nextGaussian(),
                    Unit.CELSIUS,
                    2.5,
                    Quality.GOOD,
                    new WallTime(time),
                    new WallTime(time + 1_234)));
        }
        return readings;
    }

    private double ours() throws StoreException, InterruptedException, IOException, SQLException {
        Path file = folder.resolve("store-" + files++ + ".db");
        ReadingStore store = SqliteStore.open(file);
        StoreWriter writer = new StoreWriter(store, "figures");
        long begin = System.nanoTime();
        readings.forEach(writer::add);
        boolean all = writer.flush(Duration.ofMinutes(1));
        double seconds = (System.nanoTime() - begin) / 1e9;
        writer.close();
        store.close();
        check(all ? StoreCount.readings(file) : -1);
        Files.delete(file);
        return readings.size() / seconds;
    }

    private double bare(int batch) throws SQLException, IOException {
        Path file = folder.resolve("bare-" + files++ + ".db");
        SQLiteConfig config = new SQLiteConfig();
        config.setJournalMode(SQLiteConfig.JournalMode.WAL);
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        double seconds;
        try (Connection connection = config.createConnection("jdbc:sqlite:" + file);
                Statement statement = connection.createStatement()) {
            statement.execute("CREATE TABLE reading (channel_id INTEGER NOT NULL, time_us INTEGER NOT NULL, value,"
                    + " unit_id INTEGER NOT NULL, quality_id INTEGER NOT NULL, uncertainty, received_us INTEGER NOT NULL,"
                    + " PRIMARY KEY (channel_id, time_us)) WITHOUT ROWID");
            long begin = System.nanoTime();
            insert(connection, batch);
            seconds = (System.nanoTime() - begin) / 1e9;
        }
        check(StoreCount.readings(file));
        Files.delete(file);
        return readings.size() / seconds;
    }

    private void insert(Connection connection, int batch) throws SQLException {
        connection.setAutoCommit(false);
        int channels = FORGES * CHANNELS.size();
        try (PreparedStatement insert =
                connection.prepareStatement("INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?)")) {
            for (int i = 0; i < readings.size(); i++) {
                Reading reading = readings.get(i);
                insert.setInt(1, 1 + i % channels);
                insert.setLong(2, reading.sourceTime().epochMicros());
                insert.setDouble(3, reading.value());
                insert.setInt(4, 1);
                insert.setInt(5, 1);
                insert.setDouble(6, reading.standardUncertainty());
                insert.setLong(7, reading.receiptTime().epochMicros());
                insert.addBatch();
                if ((i + 1) % batch == 0 || i + 1 == readings.size()) {
                    insert.executeBatch();
                    connection.commit();
                }
            }
        }
    }

    private void check(long stored) {
        if (stored != readings.size()) {
            throw new IllegalStateException(stored + " of " + readings.size() + " readings were stored");
        }
    }
}
