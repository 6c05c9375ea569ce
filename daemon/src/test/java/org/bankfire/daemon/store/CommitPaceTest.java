package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

class CommitPaceTest {
    // Far from zero and about to wrap, as System.nanoTime may be.
    private static final long START = Long.MAX_VALUE - TimeUnit.MILLISECONDS.toNanos(500);

    private final CommitPace pace = new CommitPace(START);

    @Test
    void theFirstCommitIsDueAtOnce() {
        assertThat(dueMs(0, false, false)).isZero();
    }

    @Test
    void whatMerelyWaitsIsCommittedASecondAfterTheLastCommit() {
        committed(0, 10);
        assertThat(dueMs(10, false, false)).isEqualTo(1_000);
        assertThat(dueMs(700, false, false)).isEqualTo(310);
        assertThat(dueMs(1_010, false, false)).isZero();
        assertThat(dueMs(99_999, false, false)).isZero();
    }

    @Test
    void whatIsAwaitedIsCommittedAfterFiftyMilliseconds() {
        committed(0, 10);
        assertThat(dueMs(10, false, true)).isEqualTo(50);
        assertThat(dueMs(60, false, true)).isZero();
    }

    @Test
    void aSlowDiskRestsFourTimesAsLongAsItWorkedButNoLongerThanASecond() {
        committed(0, 100);
        assertThat(dueMs(100, false, true)).isEqualTo(400);
        committed(1_000, 3_000);
        assertThat(dueMs(3_000, false, true)).isEqualTo(1_000);
        committed(4_000, 4_001);
        assertThat(dueMs(4_001, false, true)).isEqualTo(50);
    }

    @Test
    void whatIsUrgentIsCommittedAtOnce() {
        committed(0, 100);
        assertThat(dueMs(100, true, false)).isZero();
    }

    @Test
    void afterFailuresItWaitsLongerAndLongerUpToTenSecondsHoweverUrgent() {
        committed(0, 1);
        long[] expected = {100, 200, 400, 800, 1_600, 3_200, 6_400, 10_000, 10_000};
        for (long ms : expected) {
            pace.failed(at(5));
            assertThat(dueMs(5, true, true)).isEqualTo(ms);
        }
        committed(6, 7);
        assertThat(dueMs(7, true, false)).isZero();
        pace.failed(at(8));
        assertThat(dueMs(8, true, false)).isEqualTo(100);
    }

    @Test
    void theWaitIsCutShortBeforeTheEnd() {
        for (int i = 0; i < 9; i++) {
            pace.failed(at(0));
        }
        pace.shortenBackOff();
        assertThat(dueMs(0, true, false)).isEqualTo(100);
    }

    private static long at(long ms) {
        return START + TimeUnit.MILLISECONDS.toNanos(ms);
    }

    private void committed(long startMs, long endMs) {
        pace.committed(at(startMs), at(endMs));
    }

    private long dueMs(long nowMs, boolean urgent, boolean awaited) {
        return TimeUnit.NANOSECONDS.toMillis(pace.untilDueNanos(at(nowMs), urgent, awaited));
    }
}
