package org.bankfire.daemon.store.sqlite;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.TimeRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Kills a process that writes, again and again on the same file, at moments that nobody chose. */
class KilledProcessIT {
    private static final int ROUNDS = 8;
    private static final Duration LONG = Duration.ofMinutes(3);

    /** What came while the last commit was under way, at most as much as may come between two, and as much since. */
    private static final int MAY_BE_MISSING = 2 * NumberedReadings.MOST_SINCE_COMMIT + 4 * NumberedReadings.PER_MESSAGE;

    @TempDir
    Path folder;

    @Test
    void aKilledProcessLosesNothingThatItKnewToBeDurableAndAtMostTheLastSecond() throws Exception {
        Random random = new Random(20260301);
        int next = 0;
        for (int round = 0; round < ROUNDS; round++) {
            Writer writer = new Writer(next, round % 2 == 0);
            try {
                await().atMost(LONG).until(() -> writer.durable() >= 0);
                if (round == 0) {
                    assertThatThrownBy(() -> SqliteStore.open(file()))
                            .hasMessageContaining("is in use by process " + writer.process.pid());
                }
                int killAt = writer.added() + random.nextInt(3 * NumberedReadings.PER_SECOND);
                await().pollInterval(Duration.ofMillis(1)).atMost(LONG).until(() -> writer.added() >= killAt);
            } finally {
                writer.kill();
            }

            assertThat(integrityCheck()).as("round %d", round).containsExactly("ok");
            int last = requireNoGap(round);
            assertThat(last).as("last stored, round %d", round).isGreaterThanOrEqualTo(writer.durable());
            assertThat(writer.added() - last).as("missing, round %d", round).isLessThanOrEqualTo(MAY_BE_MISSING);
            next = last + 1;
        }
    }

    /** @return the highest number that is stored */
    private int requireNoGap(int round) throws Exception {
        try (SqliteStore store = SqliteStore.open(file())) {
            List<Reading> stored = new ArrayList<>();
            store.readings("shed", TimeRange.ALL, stored::add);
            for (int i = 0; i < stored.size(); i++) {
                if (!stored.get(i).equals(NumberedReadings.reading(i))) {
                    assertThat(stored.get(i))
                            .as("number %d, round %d", i, round)
                            .isEqualTo(NumberedReadings.reading(i));
                }
            }
            for (Rollup.Width width : Rollup.Width.values()) {
                requireRollupsAgree(store, stored, width);
            }
            return stored.size() - 1;
        }
    }

    private static void requireRollupsAgree(SqliteStore store, List<Reading> stored, Rollup.Width width)
            throws Exception {
        for (int first = 0; first < 2; first++) {
            Map<WallTime, List<Double>> values = new TreeMap<>();
            for (int i = first; i < stored.size(); i += 2) {
                values.computeIfAbsent(width.bucketOf(stored.get(i).sourceTime()), start -> new ArrayList<>())
                        .add(stored.get(i).value());
            }
            List<Rollup> rollups = store.rollups(NumberedReadings.channel(first), TimeRange.ALL, width);
            assertThat(rollups).extracting(Rollup::start).containsExactlyElementsOf(values.keySet());
            for (Rollup rollup : rollups) {
                List<Double> inBucket = values.getOrDefault(rollup.start(), List.of());
                // Numbers rise by 2 within a channel, so first and last are least and greatest and the middle is the
                // mean.
                double least = inBucket.get(0);
                double greatest = inBucket.get(inBucket.size() - 1);
                assertThat(rollup.count()).isEqualTo(inBucket.size());
                assertThat(rollup.min()).isEqualTo(least);
                assertThat(rollup.max()).isEqualTo(greatest);
                assertThat(rollup.mean()).isCloseTo((least + greatest) / 2, within(1e-6));
            }
        }
    }

    /** Right after the kill, by SQLite alone. */
    private List<String> integrityCheck() throws Exception {
        List<String> found = new ArrayList<>();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA integrity_check")) {
            while (rows.next()) {
                found.add(rows.getString(1));
            }
        }
        return found;
    }

    private Path file() {
        return folder.resolve("bankfire.db");
    }

    /** The process and what it has said so far. */
    private final class Writer {
        private final Process process;
        private final Thread listener;
        private volatile int added = -1;
        private volatile int durable = -1;

        private Writer(int first, boolean acknowledged) throws IOException {
            process = new ProcessBuilder(
                            Path.of(System.getProperty("java.home"), "bin", "java")
                                    .toString(),
                            "-Xmx128m",
                            "-cp",
                            System.getProperty("java.class.path"),
                            NumberedReadings.class.getName(),
                            file().toString(),
                            Integer.toString(first),
                            Boolean.toString(acknowledged))
                    .redirectError(ProcessBuilder.Redirect.INHERIT)
                    .start();
            listener = new Thread(this::listen);
            listener.start();
        }

        private int added() {
            return added;
        }

        private int durable() {
            return durable;
        }

        private void kill() throws InterruptedException {
            process.destroyForcibly();
            assertThat(process.waitFor(LONG.toSeconds(), TimeUnit.SECONDS)).isTrue();
            listener.join(LONG.toMillis());
        }

        private void listen() {
            try (BufferedReader lines = process.inputReader(StandardCharsets.US_ASCII)) {
                String line = lines.readLine();
                while (line != null) {
                    String[] words = line.split(" ", -1);
                    if (line.endsWith(" .")) {
                        int number = Integer.parseInt(words[1]);
                        if (words[0].equals("A")) {
                            added = number;
                        } else {
                            durable = Math.max(durable, number);
                        }
                    }
                    line = lines.readLine();
                }
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }
}
