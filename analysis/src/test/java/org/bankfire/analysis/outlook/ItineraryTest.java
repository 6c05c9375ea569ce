package org.bankfire.analysis.outlook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ItineraryTest {
    private static final Itinerary.Doubts DOUBTS = new Itinerary.Doubts(3, 1, 5);

    /** Twelve hours in which somebody turns the regulator every so many seconds. */
    private static BurnRecord record(int everyS) {
        BurnRecorder recorder = new BurnRecorder();
        SplittableRandom random = new SplittableRandom(everyS);
        double gaugePa = 0;
        for (int timeS = 0; timeS < 12 * 3600; timeS += 2) {
            gaugePa = timeS % everyS == 0 ? 20e3 + 80e3 * random.nextDouble() : gaugePa;
            recorder.chamber(timeS, 1200 + 100 * Math.sin(timeS / 3000.0));
            recorder.gas(timeS, gaugePa);
        }
        return recorder.record();
    }

    private static double pascalSeconds(List<Stretch> stretches) {
        return stretches.stream()
                .mapToDouble(each -> each.lengthS() * each.gaugePa())
                .sum();
    }

    @ParameterizedTest
    @ValueSource(ints = {40_000, 1800, 240, 60})
    void legsCoverTheRecordKeepItsGasAndAreFew(int everyS) {
        BurnRecord record = record(everyS);
        Itinerary way = Itinerary.of(record, DOUBTS);
        // Each look may add one; the loosest level takes the regulator's whole range as one.
        assertThat(way.legs()).hasSizeBetween(1, 150);
        assertThat(new BurnRecord(way.legs(), 0, Double.NaN, Double.NaN).endS()).isEqualTo(record.endS());
        assertThat(way.legs().get(0).startS()).isEqualTo(0);
        assertThat(pascalSeconds(way.legs())).isCloseTo(pascalSeconds(record.stretches()), withinPercentage(1e-6));
    }

    @ParameterizedTest
    @ValueSource(ints = {40_000, 240})
    void looksAreWhereLegsEndDenseNowAndSparseBefore(int everyS) {
        Itinerary way = Itinerary.of(record(everyS), DOUBTS);
        List<Itinerary.Look> looks = way.looks();
        assertThat(looks).hasSizeBetween(8, 16);
        assertThat(way.lookAfter().stream().filter(look -> look >= 0).toList())
                .isEqualTo(java.util.stream.IntStream.range(0, looks.size())
                        .boxed()
                        .toList());
        for (int i = 0; i < way.legs().size(); i++) {
            int look = way.lookAfter().get(i);
            if (look >= 0) {
                assertThat(way.legs().get(i).endS()).isEqualTo(looks.get(look).timeS());
            }
        }
        int last = looks.size() - 1;
        assertThat(way.legs().get(way.legs().size() - 1).endS()
                        - looks.get(last).timeS())
                .isLessThan(90);
        assertThat(looks.get(last).timeS() - looks.get(last - 1).timeS())
                .isLessThan(looks.get(1).timeS() - looks.get(0).timeS());
        assertThat(looks.get(last).doubtK()).isLessThan(looks.get(0).doubtK());
    }
}
