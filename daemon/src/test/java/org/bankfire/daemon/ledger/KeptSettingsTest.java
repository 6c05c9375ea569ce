package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a monitor counts over many burns goes through the store into the next run. */
class KeptSettingsTest {
    private static final WallTime START = WallTime.ofEpochSeconds(1_772_359_212);

    @TempDir
    Path folder;

    @Test
    void hoursOfTheWireOutliveARestartAndGoOnFromWhereTheyWere() throws Exception {
        List<ForgeConfig> forges = forges("""

                [[forge.channel]]
                name = "chamber"
                sensor = "thermocouple"
                wire-diameter = "0.8 mm"
                """);
        try (ReadingStore store = SqliteStore.open(folder.resolve("shed.db"));
                StoreWriter writer = new StoreWriter(store, "test")) {
            StoreOutput output = new StoreOutput(writer, new EventWriter(Writer.nullWriter()));
            Pipeline first = new Pipeline(forges, output);
            evening(first, 0);
            double hours = lane(first).monitor().snapshot().conditions().wireHours();
            assertThat(lane(first).monitor().snapshot().conditions().wireLimitC())
                    .isEqualTo(980);
            assertThat(hours).isBetween(0.7, 1.0);
            assertThat(writer.flush(Duration.ofSeconds(60))).isTrue();

            Pipeline second = new Pipeline(forges, output);
            for (Setting setting : store.settings("shed", TimeRange.ALL)) {
                lane(second).restore(setting);
            }
            assertThat(lane(second).monitor().snapshot().conditions().wireHours())
                    .isEqualTo(hours);
            evening(second, 86_400);
            assertThat(lane(second).monitor().snapshot().conditions().wireHours())
                    .isCloseTo(2 * hours, within(0.01));
        }
    }

    /** An hour at 1,050 °C, then gas off and cooling. */
    private static void evening(Pipeline pipeline, double fromS) {
        double celsius = 20;
        for (double t = 0; t < 4_000; t += 0.5) {
            boolean gas = t > 20 && t < 3_600;
            celsius += ((gas ? 1_050 : 20) - celsius) * 0.5 / 120;
            WallTime time = START.plusSeconds(fromS + t);
            pipeline.accept(new Pack(
                    List.of(
                            Reading.good(new Channel("shed", "chamber"), celsius, Unit.CELSIUS, time, time),
                            Reading.good(new Channel("shed", "gas"), gas ? 60_000 : 0, Unit.PASCAL, time, time)),
                    List.of(),
                    List.of()));
        }
    }

    private List<ForgeConfig> forges(String more) throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        return ConfigReader.read(Files.readString(example) + more, "shed.toml", folder)
                .config()
                .forges();
    }

    private static ForgeLane lane(Pipeline pipeline) {
        return List.copyOf(pipeline.lanes()).get(0);
    }
}
