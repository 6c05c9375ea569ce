package org.bankfire.analysis.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

final class ExpectedInformationTest {
    /** Half a bit at a signal as strong as the noise, one bit at three times that (MacKay, ch. 11; from memory). */
    @Test
    void aGaussianChannelTellsHalfTheLogarithmOfOneAndItsSignal() {
        assertThat(ExpectedInformation.bits(1, 1)).isCloseTo(0.5, within(1e-12));
        assertThat(ExpectedInformation.bits(3, 1)).isCloseTo(1, within(1e-12));
        assertThat(ExpectedInformation.bits(0, 1)).isZero();
    }

    @Test
    void entropyIsThatOfShannon() {
        assertThat(ExpectedInformation.entropyBits(new double[] {0.5, 0.5})).isCloseTo(1, within(1e-12));
        assertThat(ExpectedInformation.entropyBits(new double[] {1, 0})).isZero();
        // 1/2, 1/4, 1/8, 1/8: 1.75 bits, as in the textbooks.
        assertThat(ExpectedInformation.entropyBits(new double[] {0.5, 0.25, 0.125, 0.125}))
                .isCloseTo(1.75, within(1e-12));
    }

    /**
     * Levels N(0, 0.02²) and N(−0.03, 0.06²), noise 0.03: integrated over 40,001 points with SciPy's normal distribution, the
     * second is the least with the chance 0.68237, of which one burn of it tells 0.41415 bit and one of the first 0.01314.
     */
    @Test
    void whatABurnTellsAboutTheBestIsWhatIntegrationSays() {
        ExpectedInformation information =
                new ExpectedInformation(new double[] {0, -0.03}, new double[][] {{0.02 * 0.02, 0}, {0, 0.06 * 0.06}});
        assertThat(information.chances()[1]).isCloseTo(0.68237, within(0.012));
        assertThat(information.aboutLeast(1, 0.03 * 0.03)).isCloseTo(0.41415, within(0.02));
        assertThat(information.aboutLeast(0, 0.03 * 0.03)).isCloseTo(0.01314, within(0.012));
    }

    /** A level that the other rests on, and what it is above that: integrated as before, 0.09747 bit. */
    @Test
    void whatAllSettingsShareTellsNothingAboutTheBest() {
        ExpectedInformation information =
                new ExpectedInformation(new double[] {0, 0}, new double[][] {{0.01, 0.01}, {0.01, 0.01 + 0.0025}});
        assertThat(information.aboutLeast(0, 1e-4)).isLessThan(0.02);
        assertThat(information.aboutLeast(1, 1e-4)).isCloseTo(0.09747, within(0.02));
    }
}
