package org.bankfire.analysis.prediction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.bankfire.analysis.heat.ForgeParameters;
import org.junit.jupiter.api.Test;

class KnownForgeTest {
    @Test
    void aDescribedForgeIsPredictedAsItsDescriptionIs() {
        PredictionRequest request = new PredictionRequest(GasProgramme.constant(80e3), 1200, true, 40, null, 0);
        assertThat(Predictor.predict(KnownForge.described(PredictorTest.forge(0.8e-3, 1150), 40), request))
                .isEqualTo(Predictor.predict(PredictorTest.forge(0.8e-3, 1150), request));
    }

    @Test
    void whatWasToldIsCarriedToAnotherJetByItsRatioToWhatIsDescribed() {
        KnownForge described = KnownForge.described(PredictorTest.forge(0.8e-3, 1150), 20);
        ForgeParameters told = new ForgeParameters(1.1, 1.2, 0.9, 1.05, 1.3, 15, 0.8, 1.1, 1, 0.5, 1.2);
        KnownForge fitted = new KnownForge(described.description(), told, described.members(), KnownForge.Basis.FITTED);
        assertThat(fitted.carriedTo(described.description()).parameters().inOrder())
                .usingComparatorWithPrecision(1e-12)
                .containsExactly(told.inOrder());
        double was = described.parameters().mixture();
        KnownForge carried = fitted.carriedTo(described.description().withJet(0.7e-3));
        double is = ForgeParameters.of(carried.description()).mixture();
        assertThat(is).as("a finer jet draws more air").isGreaterThan(was);
        assertThat(carried.parameters().mixture()).isCloseTo(1.2 * is / was, within(1e-12));
        assertThat(carried.parameters().conductivity()).isEqualTo(0.9);
        assertThat(carried.members()).hasSize(20);
        assertThat(carried.basis()).isEqualTo(KnownForge.Basis.FITTED);
    }

    @Test
    void parametersSurviveTheirArray() {
        ForgeParameters told = new ForgeParameters(1.1, 1.2, 0.9, 1.05, 1.3, 15, 0.8, 1.1, 1, 0.5, 1.2);
        assertThat(ForgeParameters.ofOrder(told.inOrder())).isEqualTo(told);
        assertThatIllegalArgumentException().isThrownBy(() -> ForgeParameters.ofOrder(new double[10]));
    }

    @Test
    void whatIsNewIsAsDescribedAndWhatStaysKeepsWhatWasToldOfIt() {
        KnownForge described = KnownForge.described(PredictorTest.forge(0.8e-3, 1150), 20);
        ForgeParameters told = new ForgeParameters(1.1, 1.2, 0.9, 1.05, 1.3, 15, 0.8, 1.1, 1, 0.5, 1.2);
        KnownForge fitted = new KnownForge(described.description(), told, described.members(), KnownForge.Basis.FITTED);
        KnownForge otherJet = fitted.carriedTo(described.description().withJet(0.9e-3));
        assertThat(fitted.hasOtherJet(otherJet.description())).isTrue();
        assertThat(fitted.hasOtherLining(otherJet.description())).isFalse();
        assertThat(otherJet.parameters().heatRelease())
                .as("nobody has measured that jet")
                .isEqualTo(1);
        assertThat(otherJet.parameters().conductivity()).isEqualTo(0.9);
        assertThat(otherJet.parameters().opening()).isEqualTo(1.3);
        assertThat(otherJet.members().stream().mapToDouble(ForgeParameters::heatRelease))
                .as("its own doubt")
                .doesNotHaveDuplicates();
        assertThat(fitted.carriedTo(described.description())).isSameAs(fitted);
    }
}
