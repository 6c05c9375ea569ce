package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.daemon.store.StoreSamples.burn;
import static org.bankfire.daemon.store.StoreSamples.note;
import static org.bankfire.daemon.store.StoreSamples.reading;
import static org.bankfire.daemon.store.StoreSamples.transition;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

class BacklogTest {
    private final Backlog backlog = new Backlog(new StoreWriter.Limits(4, 3, 5));
    private final List<String> called = new ArrayList<>();
    private final List<String> told = new ArrayList<>();

    @Test
    void readingsLeaveInOrderInBatchesAndAllElseWithTheFirst() {
        add(0, 3);
        backlog.add(note(1));
        backlog.add(transition(1));
        assertThat(numbers(take(2))).containsExactly(0, 1);
        assertThat(take(2).content().notes()).containsExactly(note(1));
        assertThat(take(2).content().transitions()).containsExactly(transition(1));
        assertThat(backlog.size()).isEqualTo(5);
        backlog.stored();
        assertThat(backlog.size()).isEqualTo(1);
        assertThat(numbers(take(2))).containsExactly(2);
        backlog.stored();
        assertThat(backlog.take(2)).isNull();
        assertThat(backlog.isEmpty()).isTrue();
    }

    @Test
    void theBatchUnderWayStaysTheSameUntilItIsStored() {
        add(0, 1);
        Backlog.Batch first = take(9);
        add(1, 2);
        assertThat(take(9)).isSameAs(first);
        backlog.stored();
        assertThat(numbers(take(9))).containsExactly(1);
    }

    @Test
    void aFullBacklogDropsTheOldestReadingsAndCountsThem() {
        add(0, 2);
        take(9);
        add(2, 9);
        assertThat(backlog.droppedReadings()).isEqualTo(3);
        assertThat(numbers(take(9))).as("under way").containsExactly(0, 1);
        backlog.stored();
        assertThat(numbers(take(9))).containsExactly(5, 6, 7, 8);
    }

    @Test
    void fitsAreLargeSoFewOfThemWaitAndTheLatestOfABurnReplacesItsEarlier() {
        Backlog roomy = new Backlog(StoreWriter.Limits.STANDARD);
        for (int i = 0; i < 70; i++) {
            roomy.add(fit("shed-" + i, "{}"));
        }
        roomy.add(fit("shed-3", "{\"later\":true}"));
        assertThat(roomy.size()).isEqualTo(64);
        assertThat(roomy.refusedEntries()).isEqualTo(6);
        List<StoredFit> fits = Objects.requireNonNull(roomy.take(9)).content().fits();
        assertThat(fits).hasSize(64).contains(fit("shed-3", "{\"later\":true}")).doesNotContain(fit("shed-3", "{}"));
        roomy.stored();
        assertThat(roomy.isEmpty()).isTrue();
    }

    private static StoredFit fit(String burnId, String json) {
        return new StoredFit(burnId, "shed", new WallTime(0), new WallTime(1), null, json);
    }

    @Test
    void readingsNeverPushOutNotesAndTransitions() {
        backlog.add(note(1));
        backlog.add(transition(1));
        add(0, 100);
        assertThat(take(9).content().notes()).containsExactly(note(1));
        assertThat(take(9).content().transitions()).containsExactly(transition(1));
        assertThat(backlog.refusedEntries()).isZero();
    }

    @Test
    void entriesBeyondTheirBoundAreRefusedAndCounted() {
        for (int i = 0; i < 5; i++) {
            backlog.add(transition(i));
        }
        assertThat(take(9).content().transitions()).containsExactly(transition(0), transition(1), transition(2));
        assertThat(backlog.refusedEntries()).isEqualTo(2);
    }

    @Test
    void onlyTheLastStateOfABurnIsKept() {
        for (int i = 0; i < 50; i++) {
            backlog.add(burn("a", i));
        }
        backlog.add(burn("b", 7));
        assertThat(take(9).content().burns()).containsExactly(burn("a", 49), burn("b", 7));
        assertThat(backlog.refusedEntries()).isZero();
    }

    @Test
    void aWaiterGoesWithTheBatchThatHoldsTheLastOfItsReadings() {
        add(0, 2);
        await("two");
        add(2, 3);
        await("three");
        call(take(1));
        assertThat(called).isEmpty();
        call(take(1));
        assertThat(called).containsExactly("two");
        call(take(1));
        assertThat(called).containsExactly("two", "three");
    }

    @Test
    void aWaiterForWhatIsUnderWayGoesWithTheNextBatch() {
        add(0, 1);
        Backlog.Batch underWay = take(9);
        backlog.add(note(1));
        await("note");
        call(underWay);
        assertThat(called).isEmpty();
        call(take(9));
        assertThat(called).containsExactly("note");
    }

    @Test
    void aWaiterWhoseReadingWasDroppedIsForgottenAndOthersAreNot() {
        take0();
        await("under way");
        add(0, 2);
        await("dropped in part");
        backlog.whenNothingOlderWaits(() -> called.add("flush"));
        await("nothing of its own");
        add(2, 4);
        await("kept");
        add(4, 5);
        assertThat(backlog.droppedReadings()).isEqualTo(1);
        assertThat(backlog.forgottenWaiters()).isEqualTo(1);
        add(5, 6);
        assertThat(backlog.forgottenWaiters()).isEqualTo(1);
        backlog.stored();
        call(take(9));
        assertThat(called).containsExactlyInAnyOrder("under way", "flush", "nothing of its own", "kept");
        tellDropped();
        tellDropped();
        assertThat(told).as("each once").containsExactly("dropped in part");
    }

    @Test
    void whereTwoAddAtOnceADropIsToldToEachWhoseReadingsItMayConcern() {
        take0();
        long slow = backlog.added();
        add(0, 1);
        long quick = backlog.added();
        add(1, 2);
        backlog.whenStored(quick, () -> called.add("quick"), () -> told.add("quick"));
        add(2, 3);
        backlog.whenStored(slow, () -> called.add("slow"), () -> told.add("slow"));
        long late = backlog.added();
        add(3, 4);
        backlog.whenStored(late, () -> called.add("late"), () -> told.add("late"));
        // Reading 0 goes, which the slow one waits for, although the quick one stands first in the row.
        add(4, 5);
        assertThat(backlog.droppedReadings()).isOne();
        backlog.stored();
        call(take(9));
        tellDropped();
        assertThat(called).containsExactlyInAnyOrder("quick", "late");
        assertThat(told).containsExactly("slow");
    }

    @Test
    void waitersBeyondTheirBoundAreForgottenAndCounted() {
        add(0, 1);
        for (int i = 0; i < 7; i++) {
            await("w" + i);
        }
        assertThat(backlog.forgottenWaiters()).isEqualTo(2);
        call(take(9));
        assertThat(called).containsExactly("w0", "w1", "w2", "w3", "w4");
        tellDropped();
        assertThat(told).containsExactly("w5", "w6");
        for (int i = 0; i < 5; i++) {
            assertThat(backlog.whenNothingOlderWaits(() -> {})).isTrue();
        }
        assertThat(backlog.whenNothingOlderWaits(() -> {})).isFalse();
    }

    private void take0() {
        add(100, 101);
        take(9);
    }

    private void add(int from, int to) {
        for (int i = from; i < to; i++) {
            backlog.add(reading(i));
        }
    }

    private void await(String name) {
        backlog.whenStored(() -> called.add(name), () -> told.add(name));
    }

    private Backlog.Batch take(int maxReadings) {
        return Objects.requireNonNull(backlog.take(maxReadings));
    }

    private void call(Backlog.Batch batch) {
        backlog.stored();
        batch.stored().forEach(Runnable::run);
    }

    private void tellDropped() {
        backlog.takeDropped().forEach(Runnable::run);
    }

    private static List<Integer> numbers(Backlog.Batch batch) {
        return batch.content().readings().stream()
                .map(Reading::value)
                .map(Double::intValue)
                .toList();
    }
}
