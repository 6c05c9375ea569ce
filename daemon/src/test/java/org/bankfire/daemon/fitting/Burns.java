package org.bankfire.daemon.fitting;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;

/** Burns by hand: a forge, readings of it, and fits that nobody computed. */
final class Burns {
    static final WallTime T0 = WallTime.ofEpochSeconds(1_772_359_200);

    private Burns() {}

    /** The forge of the examples, with the id {@code shed}. */
    static ForgeConfig shed() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        return ConfigReader.read(Files.readString(example), "shed.toml", Path.of("."))
                .config()
                .forges()
                .get(0);
    }

    static Reading reading(String channel, double timeS, double value, Unit unit) {
        WallTime time = T0.plusSeconds(timeS);
        return Reading.good(new Channel("shed", channel), value, unit, time, time);
    }

    /** Lit at 20 s, heats towards 1,100 °C, gas off at {@code offS}, cools. */
    static List<Reading> at(double timeS, double offS) {
        boolean burns = timeS >= 20 && timeS < offS;
        double hot = 20 + 1_080 * (1 - Math.exp(-(Math.min(timeS, offS) - 20) / 200));
        double chamberC = timeS < 20 ? 20 : 20 + (hot - 20) * Math.exp(-Math.max(0, timeS - offS) / 300);
        return List.of(
                reading("chamber", timeS, chamberC, Unit.CELSIUS),
                reading("gas", timeS, burns ? 80_000 : 0, Unit.PASCAL));
    }

    static Burn burning(double startS) {
        WallTime start = T0.plusSeconds(startS);
        return new Burn(Burn.idOf("shed", start), "shed", start, null, 0.1, 900);
    }

    static Burn over(double startS, double endS) {
        WallTime start = T0.plusSeconds(startS);
        return new Burn(Burn.idOf("shed", start), "shed", start, T0.plusSeconds(endS), 0.1, 900);
    }

    /** A burn as a gatherer hands it over, with nothing in it. */
    static GatheredBurn gathered(double startS, GatheredBurn.Stage stage) throws Exception {
        Burn burn = burning(startS);
        return new GatheredBurn(
                shed().description(),
                burn.id(),
                burn.start(),
                burn.start().plusSeconds(60),
                stage,
                new BurnRecord(List.of(), 0, Double.NaN, Double.NaN));
    }

    /** A fit that says that loss and nothing else; NaN for a burn that does not tell it. */
    static BurnFitResult telling(ForgeDescription forge, double lossWPerK) {
        Band nothing = new Band(Double.NaN, Double.NaN, Double.NaN);
        return new BurnFitResult(
                true,
                "",
                1_000,
                20,
                1.5,
                -1,
                List.of(),
                new BurnFitResult.Loss(
                        1_273.15,
                        new Band(lossWPerK, lossWPerK * 0.96, lossWPerK * 1.04),
                        0.5,
                        Double.isNaN(lossWPerK) ? "record a cool-down" : ""),
                120,
                List.of(),
                List.of(),
                new BurnFitResult.Comparison(
                        Double.NaN, nothing, Double.NaN, Double.NaN, nothing, List.of(), List.of(), ""),
                List.of(),
                KnownForge.described(forge, 0));
    }

    /** Remembers what it is told; wants everything. */
    static final class Listening implements BurnTaker {
        final List<GatheredBurn> taken = new ArrayList<>();
        final List<String> begun = new ArrayList<>();
        final List<Retold> retold = new ArrayList<>();

        @Override
        public void begun(String forge, String burnId) {
            begun.add(burnId);
        }

        @Override
        public void retold(String forge, Retold what) {
            retold.add(what);
        }

        @Override
        public boolean wants(String forge, String burnId, GatheredBurn.Stage stage) {
            return true;
        }

        @Override
        public void take(GatheredBurn burn) {
            taken.add(burn);
        }
    }
}
