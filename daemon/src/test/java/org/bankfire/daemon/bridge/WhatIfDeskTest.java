package org.bankfire.daemon.bridge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Function;
import java.util.function.Supplier;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.PredictionRequest;
import org.bankfire.analysis.prediction.Predictor;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.report.PredictionJson;
import org.bankfire.dashboard.source.WhatIf;
import org.bankfire.dashboard.source.WhatIf.Asked;
import org.bankfire.dashboard.source.WhatIf.BusyException;
import org.bankfire.dashboard.source.WhatIf.RefusedException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Questions of what if, over the forge of the example configuration. */
final class WhatIfDeskTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Path FILE =
            Path.of(System.getProperty("bankfire.fixtures", "../fixtures")).resolve("examples/shed.toml");
    private static final WallTime NOW = WallTime.ofEpochSeconds(1_772_359_212);

    private static final int PATIENCE_S = 60;

    private final WhatIfQueue queue = new WhatIfQueue();
    private BankfireConfig config;
    private Map<String, Setting> inForce = Map.of();

    @BeforeEach
    void read() throws Exception {
        config = ConfigReader.read(FILE).config();
    }

    @AfterEach
    void close() {
        queue.close();
    }

    /** Few members, as a fit would give. */
    private static KnownForge fitted(ForgeDescription forge) {
        KnownForge described = KnownForge.described(forge, 20);
        return new KnownForge(forge, described.parameters(), described.members(), KnownForge.Basis.FITTED);
    }

    private WhatIf desk(Function<ForgeDescription, KnownForge> known) {
        return new WhatIfDesk(config, known, forge -> inForce, queue);
    }

    private JsonNode ask(Map<String, String> changes) throws Exception {
        return JSON.readTree(desk(WhatIfDeskTest::fitted).answer("shed", new Asked("", changes)));
    }

    private static JsonNode difference(JsonNode answer, String figure) {
        for (JsonNode each : answer.get("differences")) {
            if (each.get("figure").asText().equals(figure)) {
                return each;
            }
        }
        throw new AssertionError(figure);
    }

    @Test
    void withoutABurnBothAnswersAreThoseOfTheCommand() throws Exception {
        String[] set = {"burner.jet=0.9 mm", "lining.0.thickness=114 mm"};
        JsonNode answer = JSON.readTree(desk(forge -> KnownForge.described(forge, 3))
                .answer("shed", new Asked("", Map.of("burner.jet", "0.9 mm", "lining.0.thickness", "114 mm"))));
        assertThat(answer.get("today")).isEqualTo(commanded());
        assertThat(answer.get("changed")).isEqualTo(commanded(set));
        assertThat(answer.get("learnt")).isEmpty();
        assertThat(answer.get("set")).extracting(JsonNode::asText).containsExactly(set);
    }

    /** What the page's tests answer with is what this writes; it is written anew with {@code -Dwhat-if.write=FOLDER}. */
    @Test
    void answersAreWrittenForTheTestsOfThePage() throws Exception {
        String folder = System.getProperty("what-if.write");
        WhatIf desk = desk(WhatIfDeskTest::fitted);
        String keys = desk.keys("shed");
        String answer =
                desk.answer("shed", new Asked("", Map.of("burner.jet", "0.9 mm", "lining.0.thickness", "114 mm")));
        assertThat(JSON.readTree(keys).get("basis").asText()).isEqualTo("fitted");
        assertThat(JSON.readTree(answer).get("differences")).hasSize(6);
        if (folder != null) {
            Files.writeString(Path.of(folder, "what-if-keys.json"), keys);
            Files.writeString(Path.of(folder, "what-if.json"), answer);
        }
    }

    /** As {@code predict} computes and writes it. */
    private static JsonNode commanded(String... set) throws Exception {
        ForgeDescription forge =
                ConfigReader.read(FILE, List.of(set)).config().forges().get(0).description();
        StringWriter out = new StringWriter();
        PredictionJson.write(
                forge,
                Predictor.predict(
                        forge,
                        PredictionRequest.heatUp(
                                GasProgramme.constant(forge.burner().heatUpPressurePa()), 14_400)),
                out);
        return JSON.readTree(out.toString());
    }

    @Test
    void thickerLiningIsCoolerOutsideAndTakesLessGas() throws Exception {
        JsonNode answer = ask(Map.of("lining.0.thickness", "152 mm"));
        for (String figure : List.of("shell", "loss", "idleGas", "idlePressure")) {
            assertThat(difference(answer, figure).get("by").asDouble())
                    .as(figure)
                    .isNegative();
            assertThat(difference(answer, figure).get("told").asBoolean())
                    .as(figure)
                    .isTrue();
        }
        assertThat(answer.get("changed").get("steadyC").asDouble())
                .isGreaterThan(answer.get("today").get("steadyC").asDouble());
    }

    @Test
    void aLargerJetIsHotterAndSoonerThere() throws Exception {
        JsonNode answer = ask(Map.of("burner.jet", "1.0 mm"));
        assertThat(difference(answer, "steady").get("by").asDouble()).isPositive();
        assertThat(difference(answer, "timeToTarget").get("by").asDouble()).isNegative();
        assertThat(answer.at("/changed/flame/kgPerHour").asDouble())
                .isGreaterThan(1.5 * answer.at("/today/flame/kgPerHour").asDouble());
        assertThat(answer.get("learnt"))
                .anyMatch(each -> each.get("fate").asText().equals("less-sure"));
    }

    @Test
    void noChangeIsNoDifferenceAndLeavesTheFileAsItWas() throws Exception {
        byte[] before = Files.readAllBytes(FILE);
        JsonNode answer = ask(Map.of());
        assertThat(answer.get("today")).isEqualTo(answer.get("changed"));
        assertThat(answer.get("differences"))
                .hasSize(6)
                .noneMatch(each -> each.get("told").asBoolean());
        ask(Map.of("target", "1000 degC", "burner.fuel", "methane"));
        assertThat(Files.readAllBytes(FILE)).isEqualTo(before);
    }

    @Test
    void aLayerIsAddedByAWholeLining() throws Exception {
        JsonNode answer = ask(Map.of(
                "lining",
                "[{ material = \"insulating-firebrick-23\", thickness = \"76 mm\" },"
                        + " { material = \"ceramic-fibre-blanket-1260\", thickness = \"25 mm\" }]"));
        assertThat(difference(answer, "shell").get("by").asDouble()).isNegative();
        assertThat(answer.get("learnt"))
                .anyMatch(each -> each.get("fate").asText().equals("reset"));
    }

    @Test
    void todayIsWhatTheLogSays() throws Exception {
        inForce = Map.of(
                "setting-jet", new Setting("shed", NOW, "setting-jet", "0.9", "mm"),
                "setting-choke", new Setting("shed", NOW, "setting-choke", "half shut", ""));
        JsonNode keys = JSON.readTree(desk(WhatIfDeskTest::fitted).keys("shed"));
        for (JsonNode key : keys.get("keys")) {
            if (key.get("key").asText().equals("burner.jet")) {
                assertThat(key.get("value").asDouble()).isEqualTo(0.9);
                assertThat(key.get("fromLog").asBoolean()).isTrue();
            }
        }
        assertThat(keys.get("doubts").get(0).asText()).contains("burner.choke").contains("half shut");
        assertThat(ask(Map.of("target", "1000 degC")).get("set"))
                .extracting(JsonNode::asText)
                .containsExactly("burner.jet=0.9 mm", "target=1000 degC");
    }

    @Test
    void whatCannotBeUsedIsRefusedByNameWithWhatIsAllowed() {
        RefusedException misspelt = refused(Map.of("burner.jett", "0.9 mm"));
        assertThat(misspelt.key()).isEqualTo("burner.jett");
        assertThat(misspelt.value()).isEqualTo("0.9 mm");
        assertThat(misspelt.nearest()).isEqualTo("jet");
        RefusedException wide = refused(Map.of("burner.jet", "9 mm"));
        assertThat(wide.key()).isEqualTo("burner.jet");
        assertThat(wide.allowed()).contains("0.1 mm to 5 mm");
        RefusedException unitless = refused(Map.of("lining.0.thickness", "100"));
        assertThat(unitless.allowed()).contains("needs its unit");
        // Nothing of the daemon's own may be asked for in this way.
        for (String key :
                List.of("store.path", "dashboard.listen", "forge.shed.burner.jet", "id", "burner.jet=1 mm\nid")) {
            assertThat(refused(Map.of(key, "x")).allowed()).as(key).contains("not a key");
        }
        assertThat(refused(Map.of("bruner.jet", "1 mm")).nearest()).isEqualTo("burner");
    }

    private RefusedException refused(Map<String, String> changes) {
        return catchThrowableOfType(
                RefusedException.class, () -> desk(WhatIfDeskTest::fitted).answer("shed", new Asked("", changes)));
    }

    private CompletableFuture<String> asking(String page, Function<Supplier<Boolean>, String> work) {
        return CompletableFuture.supplyAsync(() -> queue.ask(page, work), task -> new Thread(task).start());
    }

    private static boolean replaced(CompletableFuture<String> question) {
        ExecutionException failure =
                catchThrowableOfType(ExecutionException.class, () -> question.get(PATIENCE_S, TimeUnit.SECONDS));
        return failure.getCause() instanceof BusyException busy && busy.replaced();
    }

    @Test
    void aNewerQuestionOfAPageTakesThePlaceOfTheOneThatIsWorkedOn() throws Exception {
        CountDownLatch started = new CountDownLatch(1);
        AtomicBoolean gaveUp = new AtomicBoolean();
        CompletableFuture<String> older = asking("a", goOn -> {
            started.countDown();
            while (goOn.get()) {
                Thread.onSpinWait();
            }
            gaveUp.set(true);
            return "old";
        });
        assertThat(started.await(PATIENCE_S, TimeUnit.SECONDS)).isTrue();
        CompletableFuture<String> newer = asking("a", goOn -> "new");
        assertThat(replaced(older)).isTrue();
        assertThat(newer.get(PATIENCE_S, TimeUnit.SECONDS)).isEqualTo("new");
        assertThat(gaveUp).isTrue();
    }

    @Test
    void threeMayWaitAndAFourthIsSentAwayForNow() throws Exception {
        CountDownLatch started = new CountDownLatch(1);
        CountDownLatch end = new CountDownLatch(1);
        List<CompletableFuture<String>> asked = new ArrayList<>();
        asked.add(asking("a", goOn -> {
            started.countDown();
            try {
                return end.await(2 * PATIENCE_S, TimeUnit.SECONDS) ? "a" : "late";
            } catch (InterruptedException stopped) {
                throw new IllegalStateException(stopped);
            }
        }));
        assertThat(started.await(PATIENCE_S, TimeUnit.SECONDS)).isTrue();
        for (String page : List.of("b", "c", "d", "e")) {
            asked.add(asking(page, goOn -> page));
        }
        // One of the four has no room; which one is chance.
        CompletableFuture.anyOf(asked.toArray(CompletableFuture[]::new))
                .exceptionally(sentAway -> "")
                .get(PATIENCE_S, TimeUnit.SECONDS);
        end.countDown();
        int busy = 0;
        for (CompletableFuture<String> each : asked) {
            try {
                each.get(PATIENCE_S, TimeUnit.SECONDS);
            } catch (ExecutionException failure) {
                assertThat(failure.getCause())
                        .isInstanceOfSatisfying(
                                BusyException.class,
                                full -> assertThat(full.replaced()).isFalse());
                busy++;
            }
        }
        assertThat(busy).isEqualTo(1);
    }
}
