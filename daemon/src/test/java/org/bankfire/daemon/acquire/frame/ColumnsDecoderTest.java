package org.bankfire.daemon.acquire.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

class ColumnsDecoderTest {
    private static final WallTime NOW = WallTime.of(Instant.parse("2026-03-01T10:00:00Z"));

    @Test
    void givesEachColumnItsNameAndUnit() throws BadFrameException {
        Pack pack = decode(format(',', "chamber", "degF", "gas", "psi", "", "", "line", "bar"), "2000, 5 ,junk,1.5");

        assertThat(pack.readings())
                .extracting(r -> r.channel() + " " + r.value() + " " + r.unit().symbol())
                .containsExactly("shed:chamber 2000.0 degF", "shed:gas 5.0 psi", "shed:line 1.5 bar");
        // NIST SP 811 appendix B: 1 psi = 6.894757 kPa; t/°C = (t/°F − 32)/1.8; 1 bar = 100 kPa.
        assertThat(pack.readings().get(0).siValue()).isCloseTo((2000 - 32) / 1.8 + 273.15, within(1e-9));
        assertThat(pack.readings().get(1).siValue()).isCloseTo(5 * 6894.757, within(0.005));
        assertThat(pack.readings().get(2).siValue()).isCloseTo(150_000, within(1e-9));
        assertThat(pack.readings()).allMatch(r -> r.sourceTime().equals(NOW));
    }

    @Test
    void takesAnyRunOfBlanksForOneDelimiter() throws BadFrameException {
        FrameFormat.Columns format = format(' ', "a", "V", "b", "V", "c", "V");

        assertThat(decode(format, "  1   2 \t 3 ").readings())
                .extracting(Reading::value)
                .containsExactly(1.0, 2.0, 3.0);
        assertThatThrownBy(() -> decode(format, "1  2")).hasMessageContaining("has 2; allowed are 3");
    }

    @Test
    void takesTabsAndSemicolons() throws BadFrameException {
        assertThat(decode(format('\t', "a", "V", "b", "V"), "1\t2").readings()).hasSize(2);
        assertThat(decode(format(';', "a", "V", "b", "V"), "1; 2").readings()).hasSize(2);
    }

    @Test
    void readsTheTimeWhereverItsColumnStands() throws BadFrameException {
        FrameFormat.Columns format = format(',', "a", "V", "time", "", "b", "V");
        WallTime expected = new WallTime(1_772_359_212_250_000L);

        for (String time : List.of("1772359212.25", "2026-03-01T10:00:12.250Z", "2026-03-01T11:00:12.25+01:00")) {
            assertThat(decode(format, "1," + time + ",2").readings())
                    .allMatch(r ->
                            r.sourceTime().equals(expected) && r.receiptTime().equals(NOW))
                    .hasSize(2);
        }
        assertThat(decode(format, "1,,2").readings())
                .allMatch(r -> r.sourceTime().equals(NOW));
    }

    @Test
    void takesAnEmptyCellForNoReadingAndWordsForFaults() throws BadFrameException {
        FrameFormat.Columns format = format(',', "a", "V", "b", "V", "c", "V", "d", "V", "e", "V");

        assertThat(decode(format, ",OPEN,nan,ovf,short-ground").readings())
                .extracting(r -> r.channel().name() + " " + r.quality().code())
                .containsExactly("b open", "c not-a-number", "d range", "e short-ground");
        assertThat(decode(format, ",,,,").readings()).isEmpty();
    }

    @Test
    void mergesAFaultColumnWithItsChannel() throws BadFrameException {
        FrameFormat.Columns format = format(',', "chamber", "Cel", "chamber-fault", "");

        Reading faulty = decode(format, "1372,range").readings().get(0);
        assertThat(faulty.value()).isEqualTo(1372);
        assertThat(faulty.quality()).isEqualTo(Quality.RANGE);
        assertThat(decode(format, "1103,none").readings())
                .extracting(Reading::quality)
                .containsExactly(Quality.GOOD);
    }

    @Test
    void readsSettingsAndRemarks() throws BadFrameException {
        Pack pack = decode(format(',', "plug", "", "setting-jet", "mm", "note", ""), "out,0.80,frost on the valve");

        assertThat(pack.settings())
                .containsExactly(
                        new Setting("shed", NOW, "plug", "out", ""),
                        new Setting("shed", NOW, "setting-jet", "0.8", "mm"));
        assertThat(pack.notes()).containsExactly(new Note("shed", NOW, "note", "frost on the valve"));
    }

    @Test
    void checksTheLinesChecksum() throws BadFrameException {
        FrameFormat.Columns any = format(',', "a", "V", "b", "V");
        FrameDecoder required =
                FrameDecoders.ofLines(new FrameFormat.Columns(ChecksumPolicy.REQUIRED, "shed", ',', any.columns()));

        assertThat(required.decode(LineChecksum.withTrailer(bytes("1,2")), NOW).readings())
                .hasSize(2);
        assertThatThrownBy(() -> required.decode(bytes("1,2"), NOW)).hasMessageContaining("checksum: missing");
    }

    @Test
    void refusesFormatsThatCannotWork() {
        assertThatThrownBy(() -> decode(format('.', "a", "V"), "1")).hasMessageContaining("delimiter '.'");
        assertThatThrownBy(() -> decode(format(',', "a", "V", "a", "V"), "1,2"))
                .hasMessageContaining("column 2: the name \"a\" is taken");
        assertThatThrownBy(() -> decode(format(',', "hot face", "Cel"), "1"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("hot face");
        assertThatThrownBy(() -> decode(format(','), "1")).hasMessageContaining("0 columns");
    }

    private static FrameFormat.Columns format(char delimiter, String... namesAndUnits) {
        List<FrameFormat.Column> columns = new ArrayList<>();
        for (int i = 0; i < namesAndUnits.length; i += 2) {
            columns.add(new FrameFormat.Column(namesAndUnits[i], Unit.ofSymbol(namesAndUnits[i + 1])));
        }
        return new FrameFormat.Columns(ChecksumPolicy.OPTIONAL, "shed", delimiter, columns);
    }

    private static Pack decode(FrameFormat.Columns format, String line) throws BadFrameException {
        return FrameDecoders.ofLines(format).decode(bytes(line), NOW);
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
