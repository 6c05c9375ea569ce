package org.bankfire.daemon.acquire.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.junit.jupiter.api.Test;

class LineJudgeTest {
    private static final FrameFormat SENML = new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null);

    @Test
    void aFirstLineThatIsWholePasses() {
        LineJudge judge = opened(SENML);

        assertThat(passes(judge, "<1>")).isTrue();
    }

    @Test
    void theRestOfALineThatBeganBeforeTheOpeningIsDroppedAndOnlyThat() {
        LineJudge judge = opened(SENML);

        assertThat(passes(judge, "1>")).isFalse();
        assertThat(passes(judge, "2>"))
                .as("a bad second line is the ledger's to report")
                .isTrue();
        assertThat(passes(judge, "<3>")).isTrue();
    }

    @Test
    void columnsThatCanNotShowAFirstLineToBeWholeAreDroppedUnlessSilenceCameBefore() {
        FrameFormat unchecked = columns(ChecksumPolicy.OPTIONAL);
        LineJudge judge = opened(unchecked);
        judge.read(4);
        assertThat(passes(judge, "<50>")).isFalse();
        assertThat(passes(judge, "<1150>")).isTrue();

        LineJudge quiet = opened(unchecked);
        quiet.read(0);
        quiet.read(4);
        assertThat(passes(quiet, "<1150>")).isTrue();
    }

    @Test
    void silenceWithinTheFirstLineIsNoSilenceBeforeIt() {
        LineJudge judge = opened(columns(ChecksumPolicy.OPTIONAL));
        judge.read(2);
        judge.read(0);
        judge.read(4);

        assertThat(passes(judge, "<50>")).isFalse();
    }

    @Test
    void columnsWithARequiredChecksumShowTheirFirstLineToBeWhole() {
        LineJudge judge = opened(columns(ChecksumPolicy.REQUIRED));
        judge.read(6);

        assertThat(passes(judge, "<1150>")).isTrue();
    }

    @Test
    void garbageRaisesADoubtAndAGoodLineEndsIt() {
        LineJudge judge = opened(SENML);
        Random random = new Random(300);
        byte[] garbage = new byte[200];
        for (int i = 0; i < 10; i++) {
            assertThat(judge.doubt()).as("after %d bytes", 200 * i).isEmpty();
            random.nextBytes(garbage);
            judge.read(garbage.length);
            judge.passes(garbage, new WallTime(0));
        }
        judge.read(48);
        assertThat(judge.doubt())
                .isEqualTo("nothing readable in 2048 bytes: is the baud rate right? Last refused: line is no <number>");

        judge.read(4);
        passes(judge, "<1>");
        assertThat(judge.doubt()).isEmpty();
    }

    @Test
    void garbageThatBeginsAfterGoodLinesRaisesADoubtToo() {
        LineJudge judge = opened(SENML);
        judge.read(4);
        passes(judge, "<1>");
        for (int i = 0; i < 8_192; i++) {
            judge.read(1);
        }
        assertThat(judge.doubt()).isEmpty();
        judge.read(1);
        assertThat(judge.doubt()).startsWith("nothing readable in 8193 bytes: is the baud rate right?");
    }

    private static LineJudge opened(FrameFormat format) {
        LineJudge judge = new LineJudge(new CountedLines(), format);
        judge.opened();
        return judge;
    }

    private static boolean passes(LineJudge judge, String line) {
        return judge.passes(line.getBytes(StandardCharsets.UTF_8), new WallTime(0));
    }

    private static FrameFormat columns(ChecksumPolicy checksum) {
        return new FrameFormat.Columns(checksum, "shed", ',', List.of(new FrameFormat.Column("chamber", Unit.CELSIUS)));
    }
}
