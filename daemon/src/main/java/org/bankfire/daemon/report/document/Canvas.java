package org.bankfire.daemon.report.document;

/** Where drawings are drawn: x to the right and y downwards, in points from the upper left corner. */
public interface Canvas {
    /** Where a text stands against its place. */
    enum Anchor {
        START,
        MIDDLE,
        END
    }

    /**
     * Colours of ink. None means anything by itself: what has another colour has another stroke or another pattern, too.
     */
    enum Ink {
        /** Text and what was measured. */
        BLACK(0x1d, 0x1b, 0x19),
        /** Axes and names. */
        SOFT(0x55, 0x55, 0x55),
        /** Lines of the scale. */
        RULE(0xd4, 0xd1, 0xcb),
        /** Ground of a band. */
        HAZE(0xdd, 0xe3, 0xe6),
        /** Ground of a bar. */
        GREY(0xb8, 0xb5, 0xae),
        /** What a fit says. */
        RUST(0x9c, 0x3a, 0x10),
        /** What was predicted. */
        STEEL(0x1f, 0x55, 0x70),
        WHITE(0xff, 0xff, 0xff);

        private final int red;
        private final int green;
        private final int blue;

        Ink(int red, int green, int blue) {
            this.red = red;
            this.green = green;
            this.blue = blue;
        }

        /** Parts of red, green and blue, 0 to 255. */
        public int[] parts() {
            return new int[] {red, green, blue};
        }
    }

    /**
     * How a line is drawn.
     *
     * @param width points
     * @param dashes lengths of dash and gap in turn, points, without a comma's digits; empty for an unbroken line
     */
    record Pen(Ink ink, double width, String dashes) {
        /** An unbroken line. */
        public static Pen solid(Ink ink, double width) {
            return new Pen(ink, width, "");
        }
    }

    /** Points joined by straight lines: x and y in turn, two points at least. */
    void line(double[] xy, Pen pen);

    /** A filled shape: x and y of its corners in turn. */
    void area(double[] xy, Ink ink);

    /**
     * A line of text.
     *
     * @param y of its base line
     * @param size of its letters, points
     */
    void text(double x, double y, Anchor anchor, double size, Ink ink, String words);

    /** A straight line. */
    default void line(double x1, double y1, double x2, double y2, Pen pen) {
        line(new double[] {x1, y1, x2, y2}, pen);
    }

    /** A filled rectangle. */
    default void rectangle(double left, double top, double width, double height, Ink ink) {
        area(new double[] {left, top, left + width, top, left + width, top + height, left, top + height}, ink);
    }
}
