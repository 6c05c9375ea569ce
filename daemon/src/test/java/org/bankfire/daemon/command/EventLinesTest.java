package org.bankfire.daemon.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.StringWriter;
import java.io.Writer;
import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;

class EventLinesTest {
    private static final Duration SOON = Duration.ofSeconds(60);

    @Test
    void linesComeOutInOrderAndTheLastOnesWithTheEnd() {
        StringWriter out = new StringWriter();
        EventLines lines = new EventLines(out, SOON.toMillis());
        StringBuilder expected = new StringBuilder();
        for (int i = 0; i < 1_000; i++) {
            lines.append("line " + i + "\n");
            expected.append("line ").append(i).append('\n');
        }
        lines.close();
        assertThat(out.toString()).isEqualTo(expected.toString());
    }

    @Test
    void anOutputThatTakesNothingHoldsNobodyUpAndNoMoreThanTheBoundWaits() {
        CountDownLatch taking = new CountDownLatch(1);
        Halted out = new Halted(taking);
        EventLines lines = new EventLines(out, SOON.toMillis());
        lines.append("x\n");
        await().atMost(SOON).until(() -> out.begun.getCount() == 0); // so that nothing is taken out while it fills
        for (int i = 0; i < 20_000; i++) {
            lines.append("x\n");
        }
        lines.append("more than may wait\n");
        taking.countDown();
        lines.close();
        assertThat(out.taken().lines().count()).isEqualTo(10_001);
        assertThat(out.taken()).doesNotContain("more");
    }

    /** A terminal halted until it is let go. */
    private static final class Halted extends Writer {
        private final CountDownLatch taking;
        private final CountDownLatch begun = new CountDownLatch(1);
        private final StringBuilder taken = new StringBuilder();

        Halted(CountDownLatch taking) {
            this.taking = taking;
        }

        synchronized String taken() {
            return taken.toString();
        }

        @Override
        public synchronized void write(char[] text, int offset, int length) {
            begun.countDown();
            try {
                taking.await();
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
            taken.append(text, offset, length);
        }

        @Override
        public void flush() {}

        @Override
        public void close() {}
    }
}
