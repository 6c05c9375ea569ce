package org.bankfire.daemon.acquire;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

class ReceiptClockTest {
    private static final long SECOND = 1_000_000;

    private final HandClock hand = new HandClock();
    private final ReceiptClock clock = hand.receiptClock();

    @Test
    void stampsAreTheWallTimeWhileBothClocksAgree() {
        hand.pass(3 * SECOND + 7);

        assertThat(clock.stamp()).isEqualTo(hand.wall());
        assertThat(clock.takeStep()).isNull();
    }

    @Test
    void stampsOfOneInstantDifferByAMicrosecond() {
        WallTime first = clock.stamp();

        assertThat(clock.stamp()).isEqualTo(first.plusMicros(1));
        assertThat(clock.stamp()).isEqualTo(first.plusMicros(2));
    }

    @Test
    void aStepForwardIsFollowedAndAnnouncedOnce() {
        WallTime before = clock.stamp();
        hand.pass(SECOND);
        hand.set(3_600 * SECOND);

        assertThat(clock.stamp()).isEqualTo(before.plusSeconds(3_601));
        ClockStep step = Objects.requireNonNull(clock.takeStep());
        assertThat(step).isEqualTo(new ClockStep(before.plusSeconds(1), before.plusSeconds(3_601)));
        assertThat(step.seconds()).isEqualTo(3_600);
        assertThat(clock.takeStep()).isNull();
    }

    @Test
    void aStepBackwardsIsFollowedAndFromThereStampsIncreaseAgain() {
        hand.pass(10 * SECOND);
        WallTime before = clock.stamp();
        hand.set(-5 * SECOND);

        WallTime after = clock.stamp();
        assertThat(after).isEqualTo(before.plusSeconds(-5));
        assertThat(clock.stamp()).isEqualTo(after.plusMicros(1));
        ClockStep step = Objects.requireNonNull(clock.takeStep());
        assertThat(step.seconds()).isEqualTo(-5);
        assertThat(clock.takeStep()).isNull();
    }

    @Test
    void aStepIsNoticedWithoutAnyStamp() {
        hand.set(-SECOND);

        assertThat(clock.takeStep()).isNotNull();
    }

    @Test
    void exactlyHalfASecondIsNoStepAndAMicrosecondMoreIs() {
        hand.set(500_000);
        assertThat(clock.takeStep()).isNull();
        hand.set(1);
        assertThat(clock.takeStep()).isNotNull();
    }

    @Test
    void aSmallDifferenceIsMadeUpAtOneInFiveHundred() {
        WallTime start = clock.stamp();
        hand.set(300_000);

        hand.pass(10 * SECOND);
        assertThat(clock.stamp()).isEqualTo(start.plusMicros(10 * SECOND + 20_000));
        hand.pass(140 * SECOND);
        assertThat(clock.stamp()).isEqualTo(hand.wall());
        assertThat(clock.takeStep()).isNull();
    }

    @Test
    void slewingBackNeverTurnsStampsBack() {
        hand.pass(SECOND);
        hand.set(-400_000);
        WallTime last = clock.stamp();
        for (int i = 0; i < 300_000; i++) {
            hand.pass(1_000);
            WallTime next = clock.stamp();
            assertThat(next).isGreaterThan(last);
            last = next;
        }
        assertThat(last).isEqualTo(hand.wall());
    }

    @Test
    void aDriftingWallClockIsFollowedWithoutASingleStep() {
        Random random = new Random(20_260_301);
        WallTime last = clock.stamp();
        long setBy = 0;
        for (int i = 0; i < 100_000; i++) {
            long micros = 1L + random.nextInt(200_000);
            hand.pass(micros);
            long drift = micros / 2_000; // 500 ppm
            hand.set(drift);
            setBy += drift;
            WallTime stamp = clock.stamp();
            assertThat(stamp).isGreaterThan(last);
            last = stamp;
        }
        assertThat(setBy).isGreaterThan(4 * SECOND);
        assertThat(clock.takeStep()).isNull();
        assertThat(last.secondsSince(hand.wall())).isCloseTo(0, within(0.001));
    }

    @Test
    void aPauseBetweenTheReadingsOfTheTwoClocksIsNoStep() {
        AtomicInteger reads = new AtomicInteger();
        long[] now = {0};
        ReceiptClock paused = new ReceiptClock(
                () -> {
                    if (reads.getAndIncrement() == 1) {
                        now[0] += 2 * SECOND; // the process is stopped for two seconds just before this reading
                    }
                    return new WallTime(now[0]);
                },
                () -> new MonotonicTime(now[0] * 1_000));

        assertThat(paused.stamp()).isEqualTo(new WallTime(2 * SECOND));
        assertThat(paused.takeStep()).isNull();
    }

    @Test
    void stepsThatNobodyTakesAreJoinedIntoTheLastOfSixteen() {
        for (int i = 0; i < 40; i++) {
            hand.set(2 * SECOND);
            clock.stamp();
        }
        List<ClockStep> steps = new ArrayList<>();
        for (ClockStep step = clock.takeStep(); step != null; step = clock.takeStep()) {
            steps.add(step);
        }
        assertThat(steps).hasSize(16);
        assertThat(steps.stream().mapToDouble(ClockStep::seconds).sum()).isEqualTo(80);
    }

    @Test
    void manyThreadsNeverShareAStamp() throws Exception {
        Set<WallTime> seen = ConcurrentHashMap.newKeySet();
        ExecutorService pool = Executors.newFixedThreadPool(4);
        try {
            List<Future<?>> done = new ArrayList<>();
            for (int thread = 0; thread < 4; thread++) {
                done.add(pool.submit(() -> {
                    for (int i = 0; i < 5_000; i++) {
                        seen.add(clock.stamp());
                    }
                }));
            }
            for (Future<?> each : done) {
                each.get(30, TimeUnit.SECONDS);
            }
        } finally {
            pool.shutdownNow();
        }
        assertThat(seen).hasSize(20_000);
    }

    @Test
    void monotonicTimeCountsOverTheWrapOfItsNanoseconds() {
        MonotonicTime before = new MonotonicTime(Long.MAX_VALUE - 499_999_999);
        MonotonicTime after = new MonotonicTime(Long.MIN_VALUE + 500_000_000);

        assertThat(after.secondsSince(before)).isEqualTo(1);
        assertThat(after.microsSince(before)).isEqualTo(SECOND);
    }
}
