package org.bankfire.analysis.outlook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.junit.jupiter.api.Test;

class ForecastScoreTest {
    private final ForecastScore score = new ForecastScore();

    private static Outlook outlook(double atS, double touchedS, double steadyK, double untilS, Doubt... doubts) {
        Band steady = new Band(steadyK, steadyK - 10, steadyK + 10);
        Settling settling = new Settling(
                50e3,
                1,
                untilS == 0,
                steady,
                new Band(untilS, untilS, untilS),
                steady,
                List.of(new Settling.Point(0, steady), new Settling.Point(400, new Band(1234, 1230, 1240))));
        return new Outlook(
                atS,
                KnownForge.Basis.FITTED,
                1200,
                50e3,
                touchedS,
                80e3,
                1,
                Optional.of(settling),
                Optional.empty(),
                List.of(doubts));
    }

    private void readings(double fromS, double toS, double kelvin) {
        for (double timeS = fromS; timeS <= toS; timeS++) {
            score.reading(timeS, kelvin);
        }
    }

    @Test
    void aForecastFiveMinutesAfterATouchIsComparedWhenItIsDue() {
        score.outlook(outlook(1100, 1000, 1400, 600));
        score.outlook(outlook(1300, 1000, 1300, 600));
        score.outlook(outlook(1400, 1000, 1500, 600));
        readings(1300, 1869, 1200);
        readings(1870, 1931, 1294);
        Score got = score.score();
        assertThat(got.count()).isEqualTo(1);
        assertThat(got.meanErrorK()).isCloseTo(6, within(1e-9));
        assertThat(got.shareInBand()).isEqualTo(1);
        Score.Compared compared = got.latest().get(0);
        assertThat(compared.dueS()).isEqualTo(1900);
        assertThat(compared.madeS()).isEqualTo(1300);
        assertThat(compared.beforePa()).isEqualTo(80e3);
    }

    @Test
    void sumsAreThoseOfTheErrors() {
        double[] happenedK = {1297, 1320};
        for (int i = 0; i < 2; i++) {
            double touchedS = 1000 + 3000 * i;
            score.outlook(outlook(touchedS + 300, touchedS, 1300, 600));
            readings(touchedS + 870, touchedS + 931, happenedK[i]);
        }
        assertThat(score.score().count()).isEqualTo(2);
        assertThat(score.score().meanErrorK()).isCloseTo((3 - 20) / 2.0, within(1e-9));
        assertThat(score.score().rmsErrorK()).isCloseTo(Math.sqrt((9 + 400) / 2.0), within(1e-9));
        assertThat(score.score().shareInBand()).isEqualTo(0.5);
    }

    @Test
    void whatIsSteadyAlreadyIsComparedSomeMinutesLater() {
        score.outlook(outlook(1300, 1000, 1300, 0));
        readings(1670, 1731, 1235);
        assertThat(score.score().latest().get(0).forecastK().value()).isEqualTo(1234);
        assertThat(score.score().latest().get(0).dueS()).isEqualTo(1700);
    }

    @Test
    void anotherTouchStockPlugOrTheEndOfTheFireDropsIt() {
        for (Doubt moved : List.of(Doubt.NOT_LIT, Doubt.STOCK_IN, Doubt.STOCK_OUT, Doubt.PLUG_MOVED)) {
            score.outlook(outlook(1300, 1000, 1300, 600));
            score.outlook(outlook(1500, 1000, 1300, 600, moved));
            readings(1870, 1931, 1294);
            score.newBurn();
        }
        score.outlook(outlook(1300, 1000, 1300, 600));
        score.outlook(outlook(1500, 1450, 1300, 600));
        readings(1870, 1931, 1294);
        assertThat(score.score().count()).isZero();
        assertThat(score.score().meanErrorK()).isNaN();
        assertThat(score.score().shareInBand()).isNaN();
    }

    @Test
    void withoutATouchOrReadingsNothingIsCompared() {
        score.outlook(outlook(1300, Double.NaN, 1300, 600));
        readings(1300, 2500, 1294);
        score.outlook(outlook(3300, 3000, 1300, 600));
        readings(5000, 5001, 1294);
        assertThat(score.score().count()).isZero();
    }

    @Test
    void theListIsBoundedAndTheSumsGoOn() {
        for (int i = 0; i < 50; i++) {
            double touchedS = 1000 + 3000 * i;
            score.outlook(outlook(touchedS + 300, touchedS, 1300, 600));
            readings(touchedS + 870, touchedS + 931, 1300);
        }
        assertThat(score.score().count()).isEqualTo(50);
        assertThat(score.score().latest()).hasSize(Score.MOST_LATEST);
        assertThat(score.score().latest().get(19).touchedS()).isEqualTo(1000 + 3000 * 49);
    }
}
