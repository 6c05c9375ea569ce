package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnFit;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.daemon.report.FitJson;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class KnownForgesTest {
    @TempDir
    private Path folder;

    /** The fit of a burn that a forge made which has a tenth more conductivity than described. */
    private static BurnFitResult fit(ForgeDescription forge) {
        double[] parameters = ForgeParameters.of(forge).inOrder();
        parameters[2] = 1.1;
        ForgeModel model = new ForgeModel(forge, ForgeParameters.ofOrder(parameters));
        ForgeRun run = new ForgeRun(model, forge.ambientK(), forge.ambientK());
        BurnRecorder recorder = new BurnRecorder();
        for (int i = 0; i < 3_000; i++) {
            double gaugePa = i < 2_000 ? 90e3 : 0;
            run.fire(gaugePa > 0 ? new Firing(model.gasKgPerS(gaugePa, forge.ambientK()), true) : Firing.OFF);
            run.advanceTo(i + 0.5);
            recorder.chamber(i, run.chamberK());
            recorder.gas(i, gaugePa);
        }
        return BurnFit.fit(forge, recorder.record(), BurnFit.USUAL_LOSS_AT_K);
    }

    @Test
    void aForgeIsKnownByTheNewestFitThatTellsItAndElseByItsDescription() throws Exception {
        ForgeDescription shed = Burns.shed().description();
        ForgeDescription fine = shed.withJet(0.7e-3);
        BurnFitResult fit = fit(fine);
        assertThat(fit.known().basis()).isEqualTo(KnownForge.Basis.FITTED);
        StringWriter json = new StringWriter();
        Burn first = Burns.over(0, 2_000);
        FitJson.write("shed", first.start().toInstant(), first.start().toInstant(), fit, json);
        try (SqliteStore store = SqliteStore.open(folder.resolve("shed.db"))) {
            FitKeeper keeper = new FitKeeper(
                    FitKeeper.Fitter.STANDARD,
                    store,
                    written -> {},
                    () -> Burns.T0,
                    List.of(Burns.shed().description()));
            KnownForges forges = new KnownForges(store, keeper);
            assertThat(forges.latest(shed).basis()).isEqualTo(KnownForge.Basis.DESCRIBED);

            Burn later = Burns.over(10_000, 11_000);
            store.append(new StoreBatch(
                    List.of(),
                    List.of(),
                    List.of(),
                    List.of(),
                    List.of(first, later),
                    List.of(
                            new StoredFit(first.id(), "shed", first.start(), Burns.T0, null, json.toString()),
                            new StoredFit(
                                    later.id(), "shed", later.start(), Burns.T0, null, "{\"converged\":false}"))));
            KnownForge known = forges.latest(shed);
            assertThat(known.basis()).isEqualTo(KnownForge.Basis.FITTED);
            assertThat(known.description()).isEqualTo(shed);
            assertThat(known.members()).hasSameSizeAs(fit.known().members());
            ForgeParameters expected = fit.known().carriedTo(shed).parameters();
            for (int i = 0; i < ForgeParameters.COUNT; i++) {
                assertThat(known.parameters().inOrder()[i] / expected.inOrder()[i])
                        .as("parameter %s", i)
                        .isBetween(0.999, 1.001);
            }
        }
    }

    @Test
    void aStoredFitThatIsOfNoUseIsPassedOver() throws Exception {
        ForgeDescription shed = Burns.shed().description();
        assertThat(KnownForges.of(shed, "{\"members\":[[1,2]],\"jetM\":0.0008}"))
                .isEmpty();
        assertThat(KnownForges.of(shed, "not JSON")).isEmpty();
    }
}
