package org.bankfire.daemon.acquire.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class LineCutterTest {
    private final LineCutter cutter = new LineCutter();
    private final Collected collected = new Collected();

    @Test
    void cutsAtLineFeedsAndIgnoresACarriageReturnBeforeThem() throws Exception {
        feed("one\r\ntwo\nth\rree\n");

        assertThat(collected.lines).containsExactly("one", "two", "th\rree");
    }

    @Test
    void joinsALineThatComesInPieces() throws Exception {
        feed("[{\"n\":\"cham");
        assertThat(collected.lines).isEmpty();
        feed("ber\"}]");
        feed("\r");
        feed("\n");

        assertThat(collected.lines).containsExactly("[{\"n\":\"chamber\"}]");
    }

    @Test
    void passesOverEmptyLines() throws Exception {
        feed("\n\r\n\n a\n\n");

        assertThat(collected.lines).containsExactly(" a");
    }

    @Test
    void takesALineOfFullLengthWithEitherLineEnd() throws Exception {
        String full = "x".repeat(4_096);
        feed(full + "\n" + full + "\r\n");

        assertThat(collected.lines).containsExactly(full, full);
        assertThat(collected.overlong).isZero();
    }

    @Test
    void discardsALineOfAByteMoreAndGoesOnWithTheNext() throws Exception {
        feed("x".repeat(4_097) + "\nnext\n" + "y".repeat(4_096) + "\ry\nlast\n");

        assertThat(collected.lines).containsExactly("next", "last");
        assertThat(collected.overlong).isEqualTo(2);
    }

    @Test
    void tellsOfAnOverlongLineOnceHoweverLongItIs() throws Exception {
        for (int i = 0; i < 100; i++) {
            feed("x".repeat(5_000));
        }
        assertThat(collected.overlong).isEqualTo(1);
        feed("\nnext\n");

        assertThat(collected.lines).containsExactly("next");
    }

    @Test
    void forgetsAHalfLineOnReset() throws Exception {
        feed("half");

        assertThat(cutter.reset()).isEqualTo(4);
        assertThat(cutter.reset()).isZero();
        feed("whole\n");
        assertThat(collected.lines).containsExactly("whole");
    }

    @Test
    void theWayThatBytesAreCutIntoReadsMakesNoDifference() throws Exception {
        Random random = new Random(4_096);
        for (int round = 0; round < 200; round++) {
            List<String> expected = new ArrayList<>();
            int expectedOverlong = 0;
            ByteArrayOutputStream stream = new ByteArrayOutputStream();
            for (int i = 0; i < 20; i++) {
                int length = random.nextInt(10) == 0 ? 4_090 + random.nextInt(1_000) : random.nextInt(300);
                byte[] line = anyBytesButLineEnds(random, length);
                stream.write(line);
                stream.write(random.nextBoolean() ? new byte[] {'\r', '\n'} : new byte[] {'\n'});
                if (length > 4_096) {
                    expectedOverlong++;
                } else if (length > 0) {
                    expected.add(new String(line, StandardCharsets.ISO_8859_1));
                }
            }
            Collected got = new Collected();
            LineCutter fresh = new LineCutter();
            byte[] all = stream.toByteArray();
            for (int from = 0; from < all.length; ) {
                int count = Math.min(all.length - from, 1 + random.nextInt(700));
                fresh.feed(Arrays.copyOfRange(all, from, from + count), count, got);
                from += count;
            }
            assertThat(got.lines).as("round %d", round).isEqualTo(expected);
            assertThat(got.overlong).as("round %d", round).isEqualTo(expectedOverlong);
        }
    }

    private static byte[] anyBytesButLineEnds(Random random, int length) {
        byte[] bytes = new byte[length];
        random.nextBytes(bytes);
        for (int i = 0; i < length; i++) {
            if (bytes[i] == '\n' || bytes[i] == '\r') {
                bytes[i] = 0;
            }
        }
        return bytes;
    }

    private void feed(String text) throws InterruptedException {
        byte[] bytes = text.getBytes(StandardCharsets.ISO_8859_1);
        cutter.feed(bytes, bytes.length, collected);
    }

    private static final class Collected implements LineCutter.Sink {
        private final List<String> lines = new ArrayList<>();
        private int overlong;

        @Override
        public void line(byte[] line) {
            lines.add(new String(line, StandardCharsets.ISO_8859_1));
        }

        @Override
        public void overlong() {
            overlong++;
        }
    }
}
