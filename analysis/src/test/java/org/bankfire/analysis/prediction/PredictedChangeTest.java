package org.bankfire.analysis.prediction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.lining.Layer;
import org.junit.jupiter.api.Test;

class PredictedChangeTest {
    private static final PredictionRequest REQUEST =
            new PredictionRequest(GasProgramme.constant(1e5), 3_600, true, 40, null, 0);
    private static final ForgeDescription SHED = PredictorTest.forge(0.8e-3, 1_150);

    private static ForgeDescription lined(double thicknessM) {
        return new ForgeDescription(
                SHED.id(),
                SHED.name(),
                SHED.targetK(),
                SHED.ambientK(),
                SHED.altitudeM(),
                SHED.burner(),
                SHED.chamberWidthM(),
                SHED.chamberHeightM(),
                SHED.chamberDepthM(),
                SHED.probeLagS(),
                List.of(new Layer(SHED.lining().get(0).material(), thicknessM)),
                SHED.openings());
    }

    private static Prediction predict(ForgeDescription forge) {
        return Predictor.predict(KnownForge.described(SHED, 40).carriedTo(forge), REQUEST);
    }

    @Test
    void nothingChangesWhereNothingIsChanged() {
        PredictedChange change = PredictedChange.between(predict(SHED), predict(SHED));
        assertThat(change.steadyK()).isEqualTo(new Band(0, 0, 0));
        assertThat(PredictedChange.isBeyondDoubt(change.steadyK())).isFalse();
    }

    /** What is not known of both alike cancels: the difference is known better than either of them. */
    @Test
    void aThickerLiningLosesLessBeyondDoubtThoughNeitherLossIsKnownWell() {
        Prediction today = predict(SHED);
        Prediction thicker = predict(lined(0.114));
        PredictedChange change = PredictedChange.between(today, thicker);
        assertThat(change.lossWPerK().value())
                .isCloseTo(thicker.lossWPerK().value() - today.lossWPerK().value(), within(1e-9));
        assertThat(change.lossWPerK().high95()).isNegative();
        assertThat(width(change.lossWPerK())).isLessThan(width(today.lossWPerK()) / 2);
        assertThat(change.shellK().high95()).isNegative();
        assertThat(change.soakedKgPerHour().high95()).isNegative();
        assertThat(change.steadyK().low95()).isPositive();
        assertThat(PredictedChange.isBeyondDoubt(change.lossWPerK())).isTrue();
    }

    private static double width(Band band) {
        return band.high95() - band.low95();
    }

    @Test
    void predictionsOfOtherMembersAreNotCompared() {
        Prediction few =
                Predictor.predict(SHED, new PredictionRequest(GasProgramme.constant(1e5), 600, true, 20, null, 0));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> PredictedChange.between(few, predict(SHED)))
                .withMessage("20 members against 40");
    }
}
