package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ServerLag;
import org.junit.jupiter.api.Test;

class ServerWatchTest {
    private static final WallTime SINCE = new WallTime(1_772_359_200_250_000L);

    private WallTime now = SINCE.plusSeconds(3_600);
    private final ServerWatch watch = new ServerWatch();

    @Test
    void aServerThatTakesNothingIsToldAfterAMinuteWithHowMuchWaits() {
        assertThat(look(away(2_400, 59, 0))).isEmpty();
        List<ServerWatch.Word> words = look(away(2_440, 61, 0));
        assertThat(words)
                .containsExactly(new ServerWatch.Word(
                        true,
                        2_440,
                        "the database has taken nothing since 2026-03-01T10:00:00Z, 2440 readings and entries wait here,"
                                + " the oldest for 1 min: connection refused"));
        assertThat(look(away(9_999, 250, 0))).as("told once").isEmpty();
    }

    @Test
    void itStandsUntilTheServerHasCaughtUp() {
        look(away(2_440, 61, 0));
        assertThat(look(takes(2_000, 65, 0))).isEmpty();
        assertThat(look(takes(40, 9, 0)))
                .containsExactly(
                        new ServerWatch.Word(false, 40, "the database has caught up with what is stored here"));
        assertThat(look(takes(40, 1, 0))).isEmpty();
    }

    @Test
    void aServerThatIsAwayWhileNothingWaitsIsNoNews() {
        assertThat(look(away(0, 0, 0))).isEmpty();
    }

    @Test
    void aServerThatTakesLessThanComesIsTold() {
        assertThat(look(takes(500_000, 899, 0))).isEmpty();
        assertThat(look(takes(500_000, 901, 0)))
                .containsExactly(
                        new ServerWatch.Word(
                                true,
                                500_000,
                                "the database takes less than comes: 500000 readings and entries wait here, the oldest for 15 min"));
    }

    @Test
    void readingsThatAreDroppedCallAnewAndOnce() {
        look(away(1_000, 61, 0));
        List<ServerWatch.Word> words = look(away(900, 3_600, 100));
        assertThat(words).extracting(ServerWatch.Word::active).containsExactly(false, true);
        assertThat(words.get(1).why()).startsWith("more waits for the database than spool-limit allows");
        assertThat(look(away(900, 3_601, 200))).isEmpty();
        assertThat(look(takes(0, 0, 300)))
                .as("in the same moment more was dropped")
                .isEmpty();
        assertThat(look(takes(0, 0, 300))).extracting(ServerWatch.Word::active).containsExactly(false);
        assertThat(look(away(900, 5, 400))).extracting(ServerWatch.Word::active).containsExactly(true);
    }

    @Test
    void linesThatAreRefusedCallOnceUntilNoneWasForAWhile() {
        WallTime first = now;
        assertThat(look(refuses(3, first)))
                .containsExactly(new ServerWatch.Word(
                        true,
                        20,
                        "the database refuses lines, 3 so far; it will not have them, they are kept in the local"
                                + " file. Of the last it said: 400 field type conflict"));
        now = first.plusSeconds(800);
        assertThat(look(refuses(40, now))).as("told once").isEmpty();
        now = first.plusSeconds(1_600);
        assertThat(look(refuses(40, first.plusSeconds(800)))).isEmpty();
        now = first.plusSeconds(1_701);
        assertThat(look(refuses(40, first.plusSeconds(800))))
                .extracting(ServerWatch.Word::active)
                .containsExactly(false);
        assertThat(look(refuses(40, first.plusSeconds(800)))).isEmpty();
        now = first.plusSeconds(1_800);
        assertThat(look(refuses(41, now))).extracting(ServerWatch.Word::active).containsExactly(true);
    }

    @Test
    void aServerThatIsBackAndRefusesCallsAnew() {
        look(away(2_440, 61, 0));
        List<ServerWatch.Word> words = look(refuses(5, now));
        assertThat(words).extracting(ServerWatch.Word::active).containsExactly(false, true);
        assertThat(words.get(1).why()).startsWith("the database refuses lines");
        words = look(away(2_440, 61, 0));
        assertThat(words).extracting(ServerWatch.Word::active).containsExactly(false, true);
        assertThat(words.get(1).why()).startsWith("the database has taken nothing since");
        assertThat(look(away(2_440, 62, 0))).isEmpty();
    }

    @Test
    void aClockThatIsSetBackDoesNotLetRefusalsStand() {
        look(refuses(5, now));
        WallTime last = now;
        now = last.plusSeconds(-7_200);
        assertThat(look(refuses(5, last))).extracting(ServerWatch.Word::active).containsExactly(false);
    }

    @Test
    void whatWasDroppedInAnEarlierRunIsNoNews() {
        assertThat(look(new ServerLag(0, 0, 0, Optional.empty(), "", 500, Optional.empty(), 70, Optional.empty(), "")))
                .isEmpty();
    }

    private static ServerLag away(long rows, double behindS, long dropped) {
        return lag(rows, behindS, Optional.of(SINCE), "connection refused", dropped);
    }

    private static ServerLag takes(long rows, double behindS, long dropped) {
        return lag(rows, behindS, Optional.empty(), "", dropped);
    }

    private static ServerLag lag(long rows, double behindS, Optional<WallTime> since, String message, long dropped) {
        return new ServerLag(
                rows,
                rows * 20,
                behindS,
                since,
                message,
                dropped,
                dropped > 0 ? Optional.of(SINCE) : Optional.empty(),
                0,
                Optional.empty(),
                "");
    }

    /** One that takes what comes, but for so many lines. */
    private static ServerLag refuses(long refused, WallTime last) {
        return new ServerLag(
                20,
                400,
                1,
                Optional.empty(),
                "",
                0,
                Optional.empty(),
                refused,
                Optional.of(last),
                "400 field type conflict");
    }

    private List<ServerWatch.Word> look(ServerLag lag) {
        return watch.look(lag, now);
    }
}
