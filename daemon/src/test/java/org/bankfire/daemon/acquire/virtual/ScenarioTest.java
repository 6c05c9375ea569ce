package org.bankfire.daemon.acquire.virtual;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumSet;
import java.util.Set;
import org.junit.jupiter.api.Test;

class ScenarioTest {
    private static final long SEED = 11;

    @Test
    void lightsHeatsWorksIdlesAndCoolsAndBeginsAnew() {
        VirtualForge forge = new VirtualForge(SEED);
        Scenario scenario = new Scenario(forge);
        run(scenario, 19);
        assertThat(forge.isLit()).isFalse();
        assertThat(forge.observe().gasPa()).isBetween(-400.0, 400.0);
        run(scenario, 11);
        assertThat(forge.isLit()).isTrue();
        run(scenario, 870);
        assertThat(forge.probeC()).as("after the heat-up").isBetween(1_120.0, 1_220.0);
        run(scenario, 150);
        assertThat(forge.isStockIn()).isTrue();
        run(scenario, 800);
        assertThat(forge.pressurePa()).as("idling").isCloseTo(VirtualForge.IDLE_PA, within(2_500.0));
        run(scenario, 2_000);
        assertThat(forge.isGasOpen()).as("cooling").isFalse();
        run(scenario, 600);
        assertThat(forge.isLit()).as("next burn").isTrue();
    }

    @Test
    void staysBelowWhatLightBlockTakesForManyHours() {
        VirtualForge forge = new VirtualForge(SEED);
        Scenario scenario = new Scenario(forge);
        double hottest = 0;
        boolean changed = false;
        double lastKg = forge.contentsKg();
        for (int i = 0; i < 24 * 3_600; i++) {
            scenario.advance(1);
            hottest = Math.max(hottest, forge.probeC());
            changed |= forge.contentsKg() > lastKg;
            lastKg = forge.contentsKg();
            assertThat(lastKg).isPositive();
        }
        // ASTM C155 group 23 block is tested at 1230 °C and commonly rated for 1260 °C.
        assertThat(hottest).isBetween(1_180.0, 1_250.0);
        assertThat(changed).as("a fresh cylinder in a day").isTrue();
    }

    @Test
    void undoesNothingThatItsUserDid() {
        Scenario scenario = working();
        VirtualForge forge = scenario.forge();
        scenario.trigger(ForgeAction.PUT_OUT_THE_FLAME);
        assertThat(scenario.isHeld()).isTrue();
        run(scenario, 5_000);
        assertThat(forge.isLit()).isFalse();
        assertThat(forge.isGasOpen()).isTrue();
        scenario.trigger(ForgeAction.GAS_OFF);
        run(scenario, 10);
        assertThat(forge.pressurePa()).isLessThan(100);
        scenario.trigger(ForgeAction.RELIGHT);
        run(scenario, 10);
        assertThat(forge.isLit()).isTrue();
        assertThat(forge.pressurePa()).isGreaterThan(20_000);
        assertThat(scenario.isHeld()).isFalse();
    }

    @Test
    void everyActionHasItsEffect() {
        Set<ForgeAction> tried = EnumSet.noneOf(ForgeAction.class);
        for (ForgeAction action : ForgeAction.values()) {
            Scenario scenario = working();
            VirtualForge forge = scenario.forge();
            scenario.trigger(action);
            run(scenario, 10);
            switch (action) {
                case PUT_OUT_THE_FLAME -> {
                    assertThat(forge.isLit()).isFalse();
                    assertThat(forge.pressurePa()).isGreaterThan(50_000);
                }
                case GAS_OFF -> {
                    assertThat(forge.isLit()).isFalse();
                    assertThat(forge.pressurePa()).isLessThan(100);
                }
                case RELIGHT -> {
                    scenario.trigger(ForgeAction.GAS_OFF);
                    run(scenario, 10);
                    scenario.trigger(action);
                    run(scenario, 10);
                    assertThat(forge.isLit()).isTrue();
                }
                case OPEN_THE_GAS -> {
                    scenario.trigger(ForgeAction.GAS_OFF);
                    run(scenario, 10);
                    scenario.trigger(action);
                    run(scenario, 10);
                    assertThat(forge.isLit()).isFalse();
                    assertThat(forge.pressurePa()).isGreaterThan(50_000);
                }
                case STOCK_IN -> assertThat(forge.stockC()).isBetween(50.0, 400.0);
                case STOCK_OUT -> assertThat(forge.isStockIn()).isFalse();
                case PULL_THE_PLUG -> assertThat(forge.isPlugIn()).isFalse();
                case PLUG_IN -> {
                    scenario.trigger(ForgeAction.PULL_THE_PLUG);
                    scenario.trigger(action);
                    assertThat(forge.isPlugIn()).isTrue();
                }
                case TURN_DOWN_TO_IDLE ->
                    assertThat(forge.pressurePa()).isCloseTo(VirtualForge.IDLE_PA, within(2_500.0));
                case TURN_UP -> assertThat(forge.pressurePa()).isCloseTo(VirtualForge.FULL_PA, within(5_000.0));
                case BREAK_THE_THERMOCOUPLE ->
                    assertThat(forge.observe().chamberC()).isNaN();
                case MEND_THE_THERMOCOUPLE -> {
                    scenario.trigger(ForgeAction.BREAK_THE_THERMOCOUPLE);
                    scenario.trigger(action);
                    assertThat(forge.observe().chamberC()).isGreaterThan(1_000);
                }
            }
            tried.add(action);
        }
        assertThat(tried).isEqualTo(EnumSet.allOf(ForgeAction.class));
    }

    @Test
    void actionsAreNamedInWords() {
        assertThat(ForgeAction.ids())
                .contains(
                        "put-out-the-flame",
                        "relight",
                        "stock-in",
                        "stock-out",
                        "pull-the-plug",
                        "plug-in",
                        "turn-down-to-idle",
                        "turn-up",
                        "gas-off",
                        "break-the-thermocouple",
                        "mend-the-thermocouple");
        assertThat(ForgeAction.PUT_OUT_THE_FLAME.words()).isEqualTo("put out the flame");
        assertThat(ForgeAction.ofId("relight")).contains(ForgeAction.RELIGHT);
        assertThat(ForgeAction.ofId("Relight")).isEmpty();
    }

    /** A warm forge with a bar in; the script touches nothing for the next three minutes. */
    private static Scenario working() {
        Scenario scenario = new Scenario(new VirtualForge(SEED));
        run(scenario, 1_000);
        return scenario;
    }

    private static void run(Scenario scenario, int seconds) {
        for (int i = 0; i < seconds; i++) {
            scenario.advance(1);
        }
    }
}
