package org.bankfire.daemon.acquire.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.junit.jupiter.api.Test;

class ArrivalsTest {
    private static final MonotonicTime START = new MonotonicTime(0);

    private final Arrivals arrivals = new Arrivals();
    private final FakeConnection first = new FakeConnection();
    private final FakeConnection second = new FakeConnection();

    @Test
    void aMessageIsAcknowledgedOnceAndOnlyWhenItIsStored() {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        assertThat(first.acknowledged).isEmpty();

        arrivals.stored(arrival);
        arrivals.stored(arrival);
        assertThat(first.acknowledged).containsExactly(7);
    }

    @Test
    void aLateStoreNeverAcknowledgesOnAnotherConnectionBeforeTheMessageCameThere() {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        first.up = false;
        arrivals.stored(arrival);

        assertThat(first.acknowledged).isEmpty();
        assertThat(second.acknowledged).isEmpty();
        assertThat(arrive(second, 7, "a", true, 1)).isEqualTo(new Arrivals.Known());
        assertThat(second.acknowledged).containsExactly(7);
    }

    @Test
    void aMessageSentAgainWhileTheStoreHasItInHandIsNotHandedOnTwice() {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        first.up = false;

        assertThat(arrive(second, 7, "a", true, 1)).isEqualTo(new Arrivals.Known());
        arrivals.stored(arrival);
        assertThat(second.acknowledged).containsExactly(7);
    }

    @Test
    void anotherMessageOfTheSameNumberIsHandedOnAndTheEarlierOneCanNotAcknowledgeIt() {
        Arrivals.Arrival earlier = fresh(arrive(first, 7, "a", false, 0));
        first.up = false;
        Arrivals.Arrival later = fresh(arrive(second, 7, "b", true, 1));

        arrivals.stored(earlier);
        assertThat(second.acknowledged).isEmpty();
        arrivals.stored(later);
        assertThat(second.acknowledged).containsExactly(7);
    }

    @Test
    void theSameBytesUnderTheSameNumberAreANewMessageUnlessMarkedAsSentAgain() {
        fresh(arrive(first, 7, "a", false, 0));

        assertThat(arrive(second, 7, "a", false, 1)).isInstanceOf(Arrivals.New.class);
    }

    @Test
    void aMessageAcknowledgedEarlierIsHandedOnAgainWhenItComesAgain() {
        arrivals.stored(fresh(arrive(first, 7, "a", false, 0)));

        assertThat(arrive(second, 7, "a", true, 1)).isInstanceOf(Arrivals.New.class);
    }

    @Test
    void aMessageThatWasGivenUpIsHandedOnAgainAfterAMinute() {
        fresh(arrive(first, 7, "a", false, 0));
        assertThat(arrive(second, 7, "a", true, 59.9)).isEqualTo(new Arrivals.Known());

        assertThat(arrive(second, 7, "a", true, 60)).isInstanceOf(Arrivals.New.class);
    }

    @Test
    void aMessageThatTheStoreDroppedEndsItsConnectionAndIsHandedOnAgainAtOnce() {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        arrivals.dropped(arrival);

        assertThat(first.ended).hasSize(1);
        assertThat(first.acknowledged).isEmpty();
        Arrivals.Arrival again = fresh(arrive(second, 7, "a", true, 1));
        arrivals.dropped(arrival);
        assertThat(second.ended)
                .as("the earlier word is of the earlier delivery")
                .isEmpty();
        arrivals.stored(again);
        assertThat(second.acknowledged).containsExactly(7);
    }

    @Test
    void aMessageDroppedAfterItCameAgainEndsTheConnectionThatBroughtItLast() {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        first.up = false;
        assertThat(arrive(second, 7, "a", true, 1)).isEqualTo(new Arrivals.Known());

        arrivals.dropped(arrival);
        assertThat(second.ended).hasSize(1);
        assertThat(first.ended).isEmpty();
    }

    @Test
    void aNewSessionForgetsEverything() {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        arrivals.clear();
        arrivals.stored(arrival);

        assertThat(first.acknowledged).isEmpty();
        assertThat(arrive(second, 7, "a", true, 1)).isInstanceOf(Arrivals.New.class);
    }

    @Test
    void noMoreThanTheMostMayWaitForTheStore() {
        for (int id = 1; id <= Arrivals.MOST; id++) {
            fresh(arrive(first, id, "a", false, 0));
        }
        assertThat(arrivals.crowded()).isTrue();
        assertThat(arrive(first, Arrivals.MOST + 1, "a", false, 1)).isEqualTo(new Arrivals.NoRoom());
    }

    @Test
    void bytesAreBoundedToo() {
        String large = "x".repeat(65_536);
        for (int id = 1; id <= 128; id++) {
            fresh(arrive(first, id, large, false, 0));
        }
        assertThat(arrive(first, 129, "a", false, 1)).isEqualTo(new Arrivals.NoRoom());
    }

    @Test
    void whatIsStoredButCouldNotBeAcknowledgedMakesRoomForWhatIsNew() {
        first.up = false;
        for (int id = 1; id <= Arrivals.MOST; id++) {
            arrivals.stored(fresh(arrive(first, id, "a", false, 0)));
        }
        assertThat(arrivals.crowded()).isFalse();

        assertThat(arrive(second, Arrivals.MOST + 1, "a", false, 1)).isInstanceOf(Arrivals.New.class);
    }

    @Test
    void waitingForNoneEndsWithTheLastAcknowledgement() throws Exception {
        Arrivals.Arrival arrival = fresh(arrive(first, 7, "a", false, 0));
        Thread store = new Thread(() -> arrivals.stored(arrival));
        store.start();
        arrivals.awaitNone(60_000);

        assertThat(first.acknowledged).containsExactly(7);
        store.join();
    }

    private Arrivals.Verdict arrive(FakeConnection connection, int id, String text, boolean again, double atS) {
        return arrivals.arrived(
                connection,
                id,
                "forge/shed",
                text.getBytes(StandardCharsets.UTF_8),
                again,
                START.plusMicros(Math.round(atS * 1e6)));
    }

    private static Arrivals.Arrival fresh(Arrivals.Verdict verdict) {
        if (verdict instanceof Arrivals.New arrival) {
            return arrival.arrival();
        }
        throw new AssertionError("not handed on: " + verdict);
    }

    private static final class FakeConnection implements Arrivals.Acknowledger {
        private final List<Integer> acknowledged = new ArrayList<>();
        private final List<String> ended = new ArrayList<>();
        private boolean up = true;

        @Override
        public boolean acknowledge(int id) {
            if (up) {
                acknowledged.add(id);
            }
            return up;
        }

        @Override
        public void end(String why) {
            ended.add(why);
            up = false;
        }
    }
}
