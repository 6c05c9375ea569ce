package org.bankfire.daemon.acquire.frame;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;

/** Frames that the tests of decoders share. */
final class FrameFixtures {
    private static final Path FIXTURES = Path.of(System.getProperty("bankfire.fixtures"));

    private FrameFixtures() {}

    /**
     * A frame that must be refused.
     *
     * @param names what the message must hold
     * @param why what is wrong with it
     */
    record BadFrame(String names, String why, String text) {
        @Override
        public String toString() {
            return why;
        }
    }

    /** The frames of a file under bad-frames: each behind its comment {@code # names; why}. */
    static List<BadFrame> badFrames(String file) throws IOException {
        List<BadFrame> frames = new ArrayList<>();
        String comment = "";
        for (String line : Files.readAllLines(FIXTURES.resolve("bad-frames").resolve(file))) {
            if (line.startsWith("# ")) {
                comment = line.substring(2);
            } else {
                int semicolon = comment.indexOf("; ");
                frames.add(new BadFrame(comment.substring(0, semicolon), comment.substring(semicolon + 2), line));
            }
        }
        return frames;
    }

    /** The CBOR example of RFC 8428 section 6. */
    static byte[] rfcCborExample() throws IOException {
        StringBuilder hex = new StringBuilder();
        for (String line : Files.readAllLines(FIXTURES.resolve("senml").resolve("rfc8428_cbor_example.txt"))) {
            if (!line.startsWith("#")) {
                hex.append(line);
            }
        }
        return hex(hex.toString());
    }

    static byte[] hex(String text) {
        return HexFormat.of().parseHex(text.replace(" ", ""));
    }

    /** Frames that decode, as JSON. */
    static List<byte[]> goodJson() {
        List<String> packs = List.of(
                "[{\"bn\":\"shed:\",\"bt\":1772359212.25,\"n\":\"chamber\",\"u\":\"Cel\",\"v\":1103.2},"
                        + "{\"n\":\"gas\",\"u\":\"Pa\",\"v\":34500},{\"n\":\"chamber-fault\",\"vs\":\"none\"}]",
                "[{\"n\":\"shed:chamber-emf\",\"u\":\"mV\",\"v\":45.119},"
                        + "{\"n\":\"shed:cold-junction\",\"u\":\"K\",\"t\":-0.1,\"v\":3.0015e2},{\"n\":\"shed:seq\",\"v\":9}]",
                "[{\"bn\":\"shed:\",\"bver\":10,\"bu\":\"W\",\"bv\":-2,\"bs\":5,\"n\":\"p\",\"v\":1,\"s\":2,\"ut\":3},"
                        + "{\"n\":\"note\",\"vs\":\"caf\\u00e9 \\ud83d\\udd25 ½\"},{\"n\":\"b\",\"vd\":\"aGkgCg\"},{\"n\":\"f\",\"vb\":true}]");
        List<byte[]> frames = new ArrayList<>();
        for (String pack : packs) {
            byte[] bytes = pack.getBytes(StandardCharsets.UTF_8);
            frames.add(bytes);
            frames.add(LineChecksum.withTrailer(bytes));
        }
        return frames;
    }

    /** Cuts, flips, removes, doubles, overwrites and splices, one to four times over. */
    static byte[] mutated(byte[] good, byte[] other, Random random) {
        byte[] bytes = good.clone();
        int steps = 1 + random.nextInt(4);
        for (int step = 0; step < steps && bytes.length > 0; step++) {
            int at = random.nextInt(bytes.length);
            switch (random.nextInt(6)) {
                case 0 -> bytes = java.util.Arrays.copyOf(bytes, at);
                case 1 -> bytes[at] ^= (byte) (1 << random.nextInt(8));
                case 2 -> bytes[at] = (byte) random.nextInt(256);
                case 3 -> bytes = joined(bytes, 0, at, bytes, Math.min(bytes.length, at + 1 + random.nextInt(4)));
                case 4 -> bytes = joined(bytes, 0, at, bytes, random.nextInt(at + 1));
                default -> bytes = joined(bytes, 0, at, other, random.nextInt(other.length));
            }
        }
        return bytes;
    }

    private static byte[] joined(byte[] head, int from, int to, byte[] tail, int tailFrom) {
        byte[] joined = new byte[to - from + tail.length - tailFrom];
        System.arraycopy(head, from, joined, 0, to - from);
        System.arraycopy(tail, tailFrom, joined, to - from, tail.length - tailFrom);
        return joined;
    }
}
