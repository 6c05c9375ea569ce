package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.OuterFace;
import org.junit.jupiter.api.Test;

class ShellFollowerTest {
    private static final double CONDUCTIVITY = 0.2;
    private static final double THICKNESS_M = 0.05;
    private static final double SIDE_M = 0.4;

    /** A cube without openings, of one constant conductivity. */
    private static ForgeDescription cube() {
        Material block = new Material(
                "block",
                500,
                1000,
                List.of(
                        new Material.ConductivityPoint(293, CONDUCTIVITY),
                        new Material.ConductivityPoint(1273, CONDUCTIVITY)),
                1533,
                "invented for this test");
        return new ForgeDescription(
                "cube",
                "Cube",
                1423,
                293.15,
                0,
                new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.03),
                SIDE_M,
                SIDE_M,
                SIDE_M,
                5,
                List.of(new Layer(block, THICKNESS_M)),
                List.of());
    }

    /** The shape factor of a box's wall: Langmuir 1913, Incropera, Fundamentals of Heat and Mass Transfer, table 4.1. */
    @Test
    void aSoakedShellGivesOffWhatTheShapeFactorLetsThrough() {
        ShellFollower follower = new ShellFollower(cube());
        for (int s = 0; s <= 24 * 3_600; s += 5) {
            follower.chamber(s * 1_000_000L, 1_000, 20);
        }
        double shellC = follower.shellC();
        double shapeM = 6 * SIDE_M * SIDE_M / THICKNESS_M + 0.54 * 12 * SIDE_M + 8 * 0.15 * THICKNESS_M;
        double throughW = CONDUCTIVITY * shapeM * (1_000 - shellC);
        double outside = SIDE_M + 2 * THICKNESS_M;
        double offW = new OuterFace(6 * outside * outside, outside, 0.9).heatW(shellC + 273.15, 293.15);
        assertThat(offW).isCloseTo(throughW, within(0.02 * throughW));
        assertThat(shellC).isBetween(100.0, 250.0);
        assertThat(follower.standardUncertaintyK()).isBetween(0.08 * (shellC - 20), 0.25 * (shellC - 20));
    }

    /**
     * Diffusion: the far side of a slab feels a step at its face after L² / (6 α), the time lag of a slab (Crank, The
     * Mathematics of Diffusion, 2nd ed., section 4.3.3): 1042 s here, and hardly anything after a fifth of it.
     */
    @Test
    void theShellFollowsAfterTheTimeThatHeatNeeds() {
        ShellFollower follower = new ShellFollower(cube());
        follower.chamber(0, 20, 20);
        for (int s = 1; s <= 200; s++) {
            follower.chamber(s * 1_000_000L, 1_000, 20);
        }
        assertThat(follower.shellC()).isCloseTo(20, within(1.0));
        for (int s = 201; s <= 1_500; s++) {
            follower.chamber(s * 1_000_000L, 1_000, 20);
        }
        assertThat(follower.shellC()).isBetween(60.0, 160.0);
    }

    /** Thin light fibre with a conductivity that rises sixfold, and a chamber that jumps as no chamber does. */
    @Test
    void itStaysBetweenAirAndChamberWhateverTheLiningAndTheJumps() {
        Material fibre = new Material(
                "fibre",
                96,
                1_050,
                List.of(new Material.ConductivityPoint(293, 0.06), new Material.ConductivityPoint(1_273, 0.36)),
                1533,
                "invented for this test");
        ForgeDescription cube = cube();
        ForgeDescription thin = new ForgeDescription(
                cube.id(),
                cube.name(),
                cube.targetK(),
                cube.ambientK(),
                cube.altitudeM(),
                cube.burner(),
                SIDE_M,
                SIDE_M,
                SIDE_M,
                5,
                List.of(new Layer(fibre, 0.013)),
                List.of());
        ShellFollower follower = new ShellFollower(thin);
        Random random = new Random(1);
        for (int i = 0; i < 20_000; i++) {
            follower.chamber(i * 500_000L, i / 300 % 2 == 0 ? 20 : 1_300 * random.nextDouble(), 20);
            assertThat(follower.shellC()).isBetween(15.0, 1_000.0);
            assertThat(follower.standardUncertaintyK()).isBetween(0.0, 400.0);
        }
    }

    @Test
    void whoComesToAHotForgeKnowsLittleAtFirstAndTheSameAsOthersLater() {
        ShellFollower late = new ShellFollower(cube());
        late.chamber(0, 1_000, 20);
        double firstK = late.standardUncertaintyK();
        ShellFollower always = new ShellFollower(cube());
        for (int s = 0; s <= 8 * 3_600; s += 5) {
            late.chamber(s * 1_000_000L, 1_000, 20);
            always.chamber(s * 1_000_000L, s == 0 ? 20 : 1_000, 20);
        }
        assertThat(firstK).isGreaterThan(2 * late.standardUncertaintyK());
        assertThat(late.shellC()).isCloseTo(always.shellC(), within(0.5));
    }

    @Test
    void aSilenceIsBridgedAndADayOfItBeginsAnew() {
        ShellFollower whole = new ShellFollower(cube());
        ShellFollower gapped = new ShellFollower(cube());
        for (int s = 0; s <= 7_200; s += 2) {
            double celsius = s == 0 ? 20 : 900;
            whole.chamber(s * 1_000_000L, celsius, 20);
            if (s < 3_000 || s > 5_000) {
                gapped.chamber(s * 1_000_000L, celsius, 20);
            }
        }
        assertThat(gapped.shellC()).isCloseTo(whole.shellC(), within(1.0));
        gapped.chamber(7_200_000_000L + 2 * 86_400_000_000L, 25, 20);
        assertThat(gapped.shellC()).isCloseTo(20, within(0.5));
    }
}
