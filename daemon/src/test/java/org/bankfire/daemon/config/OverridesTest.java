package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.entry;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Hydrocarbon;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class OverridesTest {
    @Test
    void theKeysOfTheCommandLineSetTheForge() throws IOException, ConfigException {
        ForgeConfig forge = shed(
                "burner.jet=1.0 mm",
                "lining.0.thickness=100 mm",
                "opening.rear.plug=out",
                "target=1200 degC",
                "ambient=5 degC",
                "burner.discharge=0.8",
                "burner.fuel=butane",
                "opening.front.size=[\"50 mm\", \"60 mm\"]",
                "opening.rear.size.1=70 mm",
                "altitude=250 m");
        ForgeDescription built = forge.description();
        assertThat(built.burner().jetDiameterM()).isEqualTo(1e-3);
        assertThat(built.burner().dischargeCoefficient()).isEqualTo(0.8);
        assertThat(built.burner().fuel().name()).isEqualTo("butane");
        assertThat(built.lining().get(0).thicknessM()).isEqualTo(0.1);
        assertThat(built.openings().get(0).widthM()).isEqualTo(0.05);
        assertThat(built.openings().get(1).heightM()).isEqualTo(0.07);
        assertThat(built.openings().get(1).plugged()).isFalse();
        assertThat(built.targetK()).isEqualTo(1473.15);
        assertThat(built.ambientK()).isEqualTo(278.15);
        assertThat(built.altitudeM()).isEqualTo(250);
        assertThat(forge.monitor().targetC()).isEqualTo(1200);
    }

    @Test
    void theThroatIsClosedByChokeAndObstructionTogether() throws IOException, ConfigException {
        assertThat(shed("burner.choke=30 %").description().burner().freeThroatFraction())
                .isEqualTo(0.7);
        ForgeConfig both = shed("burner.choke=20 %", "burner.obstruction=10 %", "burner.heat-up-pressure=80 kPa");
        assertThat(both.throat()).isEqualTo(new ThroatConfig(0.2, 0.1));
        assertThat(both.description().burner().freeThroatFraction()).isEqualTo(0.72);
        assertThat(both.description().burner().heatUpPressurePa()).isEqualTo(80e3);
    }

    @Test
    void aMixtureIsSetWholeOrByOnePartOfATable() throws IOException, ConfigException {
        Fuel fuel = shed("burner.fuel={ propane = \"60 %\", butane = 0.4 }")
                .description()
                .burner()
                .fuel();
        assertThat(fuel.name()).isEqualTo("propane 60 %, butane 40 %");
        assertThat(fuel.fractions()).containsOnly(entry(Hydrocarbon.PROPANE, 0.6), entry(Hydrocarbon.BUTANE, 0.4));
        BankfireConfig bench = read(
                        "reference.toml",
                        "forge.window-bench.burner.fuel.propane=90 %",
                        "forge.window-bench.burner.fuel.butane=3 %")
                .config();
        assertThat(bench.forges().get(1).description().burner().fuel().fractions())
                .containsEntry(Hydrocarbon.PROPANE, 0.9)
                .containsEntry(Hydrocarbon.BUTANE, 0.03);
    }

    @Test
    void quotesAndBlanksAroundAValueMakeNoDifference() throws IOException, ConfigException {
        assertThat(shed("burner.jet = \"1.0 mm\"")).isEqualTo(shed("burner.jet=1.0 mm"));
        assertThat(shed("name=\"Barn\"")).isEqualTo(shed("name=Barn"));
    }

    @Test
    void aLaterSettingWins() throws IOException, ConfigException {
        assertThat(shed("target=1000 degC", "target=1100 degC").monitor().targetC())
                .isEqualTo(1100);
    }

    @Test
    void oneOfSeveralForgesIsNamedByItsIdOrNumber() throws IOException, ConfigException {
        for (String key : List.of("forge.window-bench.burner.jet", "forge.1.burner.jet")) {
            BankfireConfig config = read("reference.toml", key + "=0.7 mm").config();
            assertThat(config.forges().get(0).description().burner().jetDiameterM())
                    .isEqualTo(0.9e-3);
            assertThat(config.forges().get(1).description().burner().jetDiameterM())
                    .isEqualTo(0.7e-3);
        }
    }

    @Test
    void aMaterialWithABlankInItsNameIsFoundWithQuotesOrWithout() throws IOException, ConfigException {
        for (String key : List.of("lining.salvaged block.thickness", "lining.\"salvaged block\".thickness")) {
            BankfireConfig config =
                    read("reference.toml", "forge.anvil-row." + key + "=90 mm").config();
            assertThat(config.forges().get(0).description().lining().get(0).thicknessM())
                    .isEqualTo(0.09);
        }
    }

    @ParameterizedTest
    @MethodSource
    void aSettingThatCannotBeIsToldLikeAMistakeInTheFile(String setting, String expected) {
        ConfigException exception = catchThrowableOfType(ConfigException.class, () -> read("shed.toml", setting));
        assertThat(exception.problems()).extracting(ConfigProblem::text).containsExactly("--set: " + expected);
    }

    static Stream<Arguments> aSettingThatCannotBeIsToldLikeAMistakeInTheFile() {
        return Stream.of(
                arguments("burner.jet", "burner.jet: KEY=VALUE, as in burner.jet=\"1.0 mm\""),
                arguments("=1", "=1: KEY=VALUE, as in burner.jet=\"1.0 mm\""),
                arguments("burner..jet=1 mm", "burner..jet=1 mm: KEY=VALUE, as in burner.jet=\"1.0 mm\""),
                arguments(
                        "burner.jet=1.0",
                        "forge.0.burner.jet = 1.0: it needs its unit; allowed: a length from 0.1 mm to 5 mm, as in "
                                + "\"0.8 mm\" (units: mm, cm, m, in, ft)"),
                arguments(
                        "burner.jett=1.0 mm",
                        "forge.0.burner.jett = \"1.0 mm\": unknown key; known here: choke, discharge, "
                                + "discharge-uncertainty, fuel, heat-up-pressure, jet, obstruction, throat; did you mean \"jet\"?"),
                arguments(
                        "opening.raer.plug=out",
                        "opening.raer.plug = \"out\": there is no \"raer\" in the list; it has 0 (front), 1 (rear)"),
                arguments(
                        "opening.fron.plug=out",
                        "opening.fron.plug = \"out\": there is no \"fron\" in the list; it has 0 (front), 1 (rear); did "
                                + "you mean \"front\"?"),
                arguments(
                        "lining.1.thickness=10 mm",
                        "lining.1.thickness = \"10 mm\": there is no \"1\" in the list; it has 0 "
                                + "(insulating-firebrick-23)"),
                arguments("target.high=1 degC", "target.high = \"1 degC\": there is nothing inside a single value"),
                arguments("burner=3 mm", "forge.0.burner = \"3 mm\": a table: write [forge.burner]"),
                arguments(
                        "target=" + "[".repeat(2000),
                        "forge.0.target = \"" + "[".repeat(60)
                                + "…\": not a number with its unit; allowed: a temperature from 300 degC to 1600 degC, as in "
                                + "\"1150 degC\" (units: degC, degF, K)"));
    }

    @Test
    void withSeveralForgesAKeyMustSayWhich() {
        ConfigException exception =
                catchThrowableOfType(ConfigException.class, () -> read("reference.toml", "target=1000 degC"));
        assertThat(exception.getMessage())
                .isEqualTo(
                        "--set: target = \"1000 degC\": there are several forges: write forge.ID.target with one of 0 "
                                + "(anvil-row), 1 (window-bench)");
    }

    private static ForgeConfig shed(String... settings) throws IOException, ConfigException {
        return read("shed.toml", settings).config().forges().get(0);
    }

    private static CheckedConfig read(String example, String... settings) throws IOException, ConfigException {
        return ConfigReader.read(Examples.text(example), example, Examples.FOLDER, Arrays.asList(settings));
    }
}
