package org.bankfire.analysis.burnfit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnFitResult.LedgerEntry;
import org.bankfire.analysis.burnfit.Burns.With;
import org.bankfire.analysis.burnfit.FittedParameter.Status;
import org.bankfire.analysis.fit.FitParameter;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.junit.jupiter.api.Test;

class BurnFitTest {
    private static final double AT_K = BurnFit.USUAL_LOSS_AT_K;

    @Test
    void aWholeBurnTellsTheLossCoefficientWithinItsInterval() {
        BurnFitResult fit = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, With.ALL), AT_K);
        double truth = new SteadyForge(Burns.model(), true, Burns.AMBIENT_K).lossWPerK(AT_K);
        assertThat(fit.converged()).isTrue();
        assertThat(truth)
                .isBetween(
                        fit.loss().wattsPerK().low95(), fit.loss().wattsPerK().high95());
        assertThat(fit.loss().wattsPerK().value()).isCloseTo(truth, withinPercentage(8));
        assertThat(fit.loss().advice()).isEmpty();
        assertThat(fit.rmsResidualK()).isLessThan(3);
        assertThat(fit.parameter("sensorLag").value()).isCloseTo(15, within(2.0));
        assertThat(fit.parameter("sensorLag").status()).isEqualTo(Status.IDENTIFIED);
        assertThat(fit.timeConstantS()).isBetween(10.0, 5000.0);
    }

    /** The members must agree with the interval that was carried over to first order: two ways of the GUM. */
    @Test
    void theForgesThatABurnLeavesPossibleLoseWhatItsIntervalSays() {
        BurnFitResult fit = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, With.ALL), AT_K);
        KnownForge known = fit.known();
        assertThat(known.basis()).isEqualTo(KnownForge.Basis.FITTED);
        Band loss = fit.loss().wattsPerK();
        assertThat(lossWPerK(known, known.parameters())).isCloseTo(loss.value(), within(1e-6 * loss.value()));
        double[] members = known.members().stream()
                .mapToDouble(member -> lossWPerK(known, member))
                .toArray();
        Band ofMembers = Band.of(loss.value(), members);
        double width = loss.high95() - loss.low95();
        assertThat(ofMembers.low95()).isCloseTo(loss.low95(), within(0.25 * width));
        assertThat(ofMembers.high95()).isCloseTo(loss.high95(), within(0.25 * width));
    }

    private static double lossWPerK(KnownForge known, ForgeParameters parameters) {
        ForgeModel model = new ForgeModel(known.description(), parameters);
        return new SteadyForge(model, true, Burns.AMBIENT_K).lossWPerK(AT_K);
    }

    @Test
    void theLedgerOfARealBurnAddsUpToItsInput() {
        BurnFitResult fit = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, With.ALL), AT_K);
        assertThat(fit.ledger()).hasSizeBetween(20, 120);
        for (LedgerEntry entry : fit.ledger()) {
            double scale = Math.max(1, Math.abs(entry.watts().stored()));
            assertThat(entry.watts().gap()).isCloseTo(0, within(1e-6 * scale));
        }
    }

    @Test
    void aHeatUpAloneWithoutKnownGasFlowClaimsNoWatts() {
        BurnFitResult fit = BurnFit.fit(Burns.shed(), Burns.record(Burns.HEAT_UP, new With(false, Double.NaN)), AT_K);
        assertThat(fit.loss().wattsPerK().value()).isNaN();
        assertThat(fit.loss().advice()).contains("weigh the cylinder");
        assertThat(fit.parameter("heatReleaseFactor").status()).isEqualTo(Status.NOT_IDENTIFIABLE);
        assertThat(fit.parameter("heatReleaseFactor").advice()).contains("weigh the cylinder");
        assertThat(fit.remarks()).anyMatch(remark -> remark.contains("No gas pressure was recorded"));
    }

    @Test
    void aHeatUpAloneDoesNotTellStoredHeatFromConductivity() {
        BurnFitResult heatUp = BurnFit.fit(Burns.shed(), Burns.record(Burns.HEAT_UP, With.ALL), AT_K);
        BurnFitResult whole = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, With.ALL), AT_K);
        assertThat(heatUp.parameter("liningConductivityScale").status()).isNotEqualTo(Status.IDENTIFIED);
        assertThat(heatUp.parameter("liningCapacityScale").status()).isNotEqualTo(Status.IDENTIFIED);
        assertThat(whole.parameter("liningCapacityScale").narrowedTo())
                .isLessThan(heatUp.parameter("liningCapacityScale").narrowedTo());
        double widthAfterHeatUp = width(heatUp);
        assertThat(width(whole)).isLessThan(widthAfterHeatUp);
    }

    private static double width(BurnFitResult fit) {
        return fit.loss().wattsPerK().high95() / fit.loss().wattsPerK().low95();
    }

    @Test
    void aWeighedCylinderAnchorsTheHeatRelease() {
        BurnFitResult weighed = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, new With(true, 0.003)), AT_K);
        BurnFitResult unweighed = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, With.ALL), AT_K);
        assertThat(weighed.parameter("heatReleaseFactor").standardError())
                .isLessThan(0.6 * unweighed.parameter("heatReleaseFactor").standardError());
        assertThat(weighed.parameter("heatReleaseFactor").value()).isCloseTo(1.02, within(0.02));
        assertThat(weighed.remarks()).anyMatch(remark -> remark.contains("anchored by the cylinder"));
    }

    @Test
    void aRecordWithoutABurnInItIsNoFit() {
        BurnRecorder recorder = new BurnRecorder();
        recorder.chamber(0, 300);
        recorder.chamber(1, 301);
        BurnFitResult fit = BurnFit.fit(Burns.shed(), recorder.record(), AT_K);
        assertThat(fit.converged()).isFalse();
        assertThat(fit.why()).contains("at least 20 are needed");
        assertThat(fit.loss().wattsPerK().value()).isNaN();
        assertThat(fit.parameters()).allMatch(each -> each.status() == Status.NOT_IDENTIFIABLE);
    }

    @Test
    void differencesFromThePredictionAreExplainedByParameters() {
        BurnFitResult fit = BurnFit.fit(Burns.shed(), Burns.record(Burns.WHOLE, With.ALL), AT_K);
        assertThat(fit.comparison().milestones()).hasSizeGreaterThan(8);
        assertThat(fit.comparison().explanations()).hasSize(10);
        double sum = 0;
        for (BurnFitResult.Explanation explanation : fit.comparison().explanations()) {
            sum += explanation.steadyK();
        }
        double difference = fit.comparison().fittedSteadyK()
                - fit.comparison().predictedSteadyK().value();
        // One at a time they add up nearly, for none of them is large.
        assertThat(sum).isCloseTo(difference, within(15.0));
        assertThat(fit.comparison().verdict()).contains("than described");
    }

    @Test
    void aCylinderThatWasLiftedOffItsScaleIsNoWeighing() {
        BurnRecord whole = Burns.record(Burns.WHOLE, With.ALL);
        BurnRecord lifted = new BurnRecord(whole.stretches(), whole.samples(), 11.5, 0.03);
        BurnFitResult fit = BurnFit.fit(Burns.shed(), lifted, AT_K);
        assertThat(fit.converged()).isTrue();
        assertThat(fit.parameter("heatReleaseFactor").value()).isCloseTo(1.02, within(0.1));
        assertThat(fit.remarks()).noneMatch(remark -> remark.contains("anchored by the cylinder"));
    }

    @Test
    void withoutAGasPressureNoneFlowsOnceTheFireIsOut() {
        BurnRecorder recorder = new BurnRecorder();
        for (int s = 0; s < 1200; s++) {
            recorder.chamber(s, 293.15 + (s < 600 ? 2 * s : 1200 - (s - 600)));
        }
        recorder.lit(600, false);
        BurnRecord record = recorder.record();
        double[] nominal = Unknown.parameters(Burns.shed(), Knowledge.of(Burns.shed(), record)).stream()
                .mapToDouble(FitParameter::start)
                .toArray();
        double[] gasKg = new double[2];
        new BurnModel(Burns.shed(), record, nominal)
                .walk(nominal, (i, meanK, run) -> gasKg[run.timeS() < 600.75 ? 0 : 1] = run.gasKg());
        assertThat(gasKg[0]).isPositive();
        assertThat(gasKg[1]).isEqualTo(gasKg[0]);
    }

    @Test
    void descriptionsAtTheEndOfWhatIsAllowedCanBeFitted() {
        ForgeDescription shed = Burns.shed();
        Burner choked = new Burner(shed.burner().fuel(), 5e-3, 6e-3, 0.85, 0.025);
        ForgeDescription extreme = new ForgeDescription(
                shed.id(),
                shed.name(),
                shed.targetK(),
                shed.ambientK(),
                shed.altitudeM(),
                choked,
                shed.chamberWidthM(),
                shed.chamberHeightM(),
                shed.chamberDepthM(),
                ForgeDescription.PROBE_LAG_S.high(),
                shed.lining(),
                shed.openings());
        assertThat(ForgeParameters.of(extreme).mixture()).isEqualTo(ForgeParameters.MIXTURE.low());
        BurnRecorder recorder = new BurnRecorder();
        for (int s = 0; s < 600; s++) {
            // So cold that no forge can start there.
            recorder.chamber(s, 193.15 + s);
            recorder.gas(s, 100_000);
        }
        assertThat(BurnFit.fit(extreme, recorder.record(), AT_K)
                        .loss()
                        .wattsPerK()
                        .value())
                .isNaN();
    }

    @Test
    void spikesDoNotMoveTheFit() {
        BurnRecord clean = Burns.record(Burns.WHOLE, With.ALL);
        List<BurnRecord.Stretch> spiked = new ArrayList<>(clean.stretches());
        for (int i = 40; i < spiked.size(); i += 60) {
            BurnRecord.Stretch s = spiked.get(i);
            spiked.set(
                    i,
                    new BurnRecord.Stretch(
                            s.startS(),
                            s.endS(),
                            s.chamberK() + 150,
                            s.samples(),
                            s.gaugePa(),
                            s.ambientK(),
                            s.lit(),
                            s.plugIn(),
                            s.stockIn()));
        }
        BurnRecord dirty = new BurnRecord(spiked, clean.samples(), Double.NaN, Double.NaN);
        double without =
                BurnFit.fit(Burns.shed(), clean, AT_K).loss().wattsPerK().value();
        double with = BurnFit.fit(Burns.shed(), dirty, AT_K).loss().wattsPerK().value();
        assertThat(with).isCloseTo(without, withinPercentage(4));
    }

    @Test
    void aRecordThatNoForgeCouldHaveMadeClaimsNoLoss() {
        BurnRecorder recorder = new BurnRecorder();
        for (int i = 0; i < 3600; i++) {
            // Warms evenly for an hour under full pressure: no wall does.
            recorder.chamber(i, 293 + 0.3 * i);
            recorder.gas(i, 100e3);
        }
        BurnFitResult fit = BurnFit.fit(Burns.shed(), recorder.record(), AT_K);
        assertThat(fit.loss().wattsPerK().value()).isNaN();
        assertThat(fit.loss().advice()).contains("no forge of this kind");
        assertThat(fit.remarks()).anyMatch(remark -> remark.contains("does not follow this burn"));
    }

    @Test
    void aMinuteOfHeatingUpIsSaidToTellNoMoreThanTheDescription() {
        BurnFitResult fit =
                BurnFit.fit(Burns.shed(), Burns.record(List.of(new Burns.Stage(60, 100e3)), With.ALL), AT_K);
        assertThat(fit.loss().isTold()).isFalse();
        assertThat(fit.loss().advice()).contains("what the description says");
    }

    @Test
    void anAbsurdTemperatureForTheLossIsRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> BurnFit.fit(Burns.shed(), new BurnRecorder().record(), 100))
                .withMessageContaining("temperature of the loss coefficient in K is 100.0");
    }
}
