package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.junit.jupiter.api.Test;

final class RecordedPackTest {
    private static final WallTime TIME = new WallTime(1_780_000_000_000_000L);

    @Test
    void correctedReadingBesideItsRawOneIsLeftOut() {
        Pack sent = RecordedPack.asSent(pack(reading("chamber-emf", 41.2, TIME), reading("chamber", 1001.1, TIME)));

        assertThat(sent.readings())
                .extracting(reading -> reading.channel().name())
                .containsExactly("chamber-emf");
    }

    @Test
    void rawCopyGoesUnderItsFirstNameAgain() {
        Pack sent = RecordedPack.asSent(pack(reading("chamber-raw", 998.5, TIME), reading("chamber", 1001.1, TIME)));

        assertThat(sent.readings()).containsExactly(reading("chamber", 998.5, TIME));
    }

    @Test
    void readingsOfAnotherMomentStay() {
        Pack sent =
                RecordedPack.asSent(pack(reading("gas-volts", 1.2, TIME), reading("gas", 80_000, TIME.plusSeconds(1))));

        assertThat(sent.readings()).hasSize(2);
    }

    @Test
    void packWithoutRawReadingsIsTheSame() {
        Pack recorded = pack(reading("chamber", 1001.1, TIME), reading("gas", 80_000, TIME));

        assertThat(RecordedPack.asSent(recorded)).isSameAs(recorded);
    }

    @Test
    void firstTimeIsTheEarliestOfReadingsAndNotes() {
        Note note = new Note("shed", TIME.plusSeconds(-3), Note.REMARK, "choke opened");

        assertThat(RecordedPack.firstTime(new Pack(List.of(reading("chamber", 20, TIME)), List.of(note), List.of())))
                .isEqualTo(TIME.plusSeconds(-3));
        assertThat(RecordedPack.firstTime(pack())).isNull();
    }

    private static Pack pack(Reading... readings) {
        return new Pack(List.of(readings), List.of(), List.of());
    }

    private static Reading reading(String channel, double value, WallTime time) {
        return Reading.good(new Channel("shed", channel), value, Unit.NONE, time, time);
    }
}
