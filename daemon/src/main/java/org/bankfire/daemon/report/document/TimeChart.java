package org.bankfire.daemon.report.document;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.bankfire.daemon.report.document.Canvas.Anchor;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;

/**
 * Quantities of one unit over time. Lines are told apart by their strokes and a key names them.
 *
 * @param title what it is
 * @param description what it tells, in a sentence
 * @param unit of the figures
 * @param lengthS of the axis of time, s, more than 0
 * @param height points
 * @param fromZero whether the scale begins at 0
 * @param bands below the lines
 * @param lines in the order in which they are drawn
 * @param levels fixed values
 * @param marks moments
 */
public record TimeChart(
        String title,
        String description,
        String unit,
        double lengthS,
        double height,
        boolean fromZero,
        List<Band> bands,
        List<Line> lines,
        List<Level> levels,
        List<Mark> marks)
        implements Drawing {
    private static final double LEFT = 42;
    private static final double RIGHT = 12;
    private static final double KEY = 14;
    private static final double MARKS = 20;
    private static final double BOTTOM = 28;
    private static final double LETTER = 8;
    private static final double APART = 13;
    private static final double LONG_S = 3 * 3_600;
    /** Part of the greatest value that is taken for noise below 0. */
    private static final double NOISE = 0.03;

    /** A stretch between two values over time; its name is for the key. */
    public record Band(String name, List<Spread> spreads) {
        public Band {
            spreads = List.copyOf(spreads);
        }
    }

    /**
     * Two values at one time.
     *
     * @param timeS s
     * @param low lower value, NaN for a gap
     * @param high upper value, NaN for a gap
     */
    public record Spread(double timeS, double low, double high) {}

    /** A line with its name for the key and its stroke. */
    public record Line(String name, List<Spot> spots, Pen pen) {
        public Line {
            spots = List.copyOf(spots);
        }
    }

    /**
     * A value at one time.
     *
     * @param timeS s
     * @param value NaN for a gap
     */
    public record Spot(double timeS, double value) {}

    /** A value that does not change. */
    public record Level(String name, double value) {}

    /** A moment with its short name. */
    public record Mark(double timeS, String name) {}

    public TimeChart {
        bands = List.copyOf(bands);
        lines = List.copyOf(lines);
        levels = List.copyOf(levels);
        marks = List.copyOf(marks);
    }

    @Override
    public void drawOn(Canvas canvas) {
        new Sheet(canvas).draw();
    }

    /** One drawing of it. */
    private final class Sheet {
        private final Canvas canvas;
        private final double top = KEY + (marks.isEmpty() ? 6 : MARKS);
        private final List<Double> figures;

        Sheet(Canvas canvas) {
            this.canvas = canvas;
            this.figures = scale();
        }

        private List<Double> scale() {
            double[] ends = {Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY};
            lines.forEach(line -> line.spots().forEach(spot -> widen(ends, spot.value())));
            bands.forEach(band -> band.spreads().forEach(spread -> {
                widen(ends, spread.low());
                widen(ends, spread.high());
            }));
            levels.forEach(level -> widen(ends, level.value()));
            if (ends[0] > ends[1]) {
                return Scale.figures(0, 1);
            }
            // A sensor's noise about 0 is no reason for a scale below it.
            boolean noise = ends[0] > -NOISE * ends[1];
            return Scale.figures(fromZero && noise ? 0 : ends[0], ends[1]);
        }

        private static void widen(double[] ends, double value) {
            if (Double.isFinite(value)) {
                ends[0] = Math.min(ends[0], value);
                ends[1] = Math.max(ends[1], value);
            }
        }

        void draw() {
            axes();
            bands.forEach(this::band);
            for (Level level : levels) {
                canvas.line(LEFT, y(level.value()), WIDTH - RIGHT, y(level.value()), new Pen(Ink.SOFT, 0.7, "8 3 1 3"));
            }
            for (Line line : lines) {
                polyline(line.spots(), line.pen());
            }
            marks();
            key();
        }

        private void axes() {
            double step = figures.get(1) - figures.get(0);
            for (double figure : figures) {
                canvas.line(LEFT, y(figure), WIDTH - RIGHT, y(figure), Pen.solid(Ink.RULE, 0.5));
                canvas.text(LEFT - 5, y(figure) + 3, Anchor.END, LETTER, Ink.BLACK, Scale.words(figure, step));
            }
            canvas.text(LEFT - 5, top - 5, Anchor.END, LETTER, Ink.SOFT, unit);
            double stepS = Scale.timeStepS(lengthS);
            boolean hours = lengthS >= LONG_S;
            double unitS = hours ? 3_600 : 60;
            double base = height - BOTTOM;
            for (int i = 0; i * stepS <= lengthS * (1 + 1e-9); i++) {
                double x = x(i * stepS);
                canvas.line(x, base, x, base + 3, Pen.solid(Ink.SOFT, 0.7));
                canvas.text(
                        x, base + 12, Anchor.MIDDLE, LETTER, Ink.BLACK, Scale.words(i * stepS / unitS, stepS / unitS));
            }
            canvas.line(LEFT, base, WIDTH - RIGHT, base, Pen.solid(Ink.SOFT, 0.7));
            canvas.text(
                    (LEFT + WIDTH - RIGHT) / 2,
                    height - 5,
                    Anchor.MIDDLE,
                    LETTER,
                    Ink.SOFT,
                    (hours ? "hours" : "minutes") + " since gas on");
        }

        private void band(Band band) {
            List<Spread> spreads = band.spreads();
            int from = 0;
            while (from < spreads.size()) {
                int to = from;
                while (to < spreads.size() && isWhole(spreads.get(to))) {
                    to++;
                }
                if (to - from >= 2) {
                    shape(spreads.subList(from, to));
                }
                from = Math.max(to, from + 1);
            }
        }

        private static boolean isWhole(Spread spread) {
            return Double.isFinite(spread.low()) && Double.isFinite(spread.high());
        }

        private void shape(List<Spread> spreads) {
            int count = spreads.size();
            double[] xy = new double[4 * count];
            for (int i = 0; i < count; i++) {
                Spread spread = spreads.get(i);
                double x = x(spread.timeS());
                xy[2 * i] = x;
                xy[2 * i + 1] = y(spread.high());
                xy[4 * count - 2 - 2 * i] = x;
                xy[4 * count - 1 - 2 * i] = y(spread.low());
            }
            canvas.area(xy, Ink.HAZE);
            canvas.line(Arrays.copyOf(xy, 2 * count), Pen.solid(Ink.GREY, 0.4));
            canvas.line(Arrays.copyOfRange(xy, 2 * count, 4 * count), Pen.solid(Ink.GREY, 0.4));
        }

        private void polyline(List<Spot> spots, Pen pen) {
            int from = 0;
            while (from < spots.size()) {
                int to = from;
                while (to < spots.size() && Double.isFinite(spots.get(to).value())) {
                    to++;
                }
                if (to - from >= 2) {
                    double[] xy = new double[2 * (to - from)];
                    for (int i = from; i < to; i++) {
                        xy[2 * (i - from)] = x(spots.get(i).timeS());
                        xy[2 * (i - from) + 1] = y(spots.get(i).value());
                    }
                    canvas.line(xy, pen);
                }
                from = Math.max(to, from + 1);
            }
        }

        private void marks() {
            double lastUpper = Double.NEGATIVE_INFINITY;
            double lastLower = Double.NEGATIVE_INFINITY;
            for (Mark mark : marks) {
                double x = x(mark.timeS());
                canvas.line(x, top - 2, x, height - BOTTOM, new Pen(Ink.SOFT, 0.4, "1 2"));
                // Names that would lie upon each other take the other row, or are left to the list.
                if (x - lastLower >= APART) {
                    lastLower = x;
                    canvas.text(x, top - 4, Anchor.MIDDLE, LETTER, Ink.BLACK, mark.name());
                } else if (x - lastUpper >= APART) {
                    lastUpper = x;
                    canvas.text(x, top - 12, Anchor.MIDDLE, LETTER, Ink.BLACK, mark.name());
                }
            }
        }

        private void key() {
            double x = LEFT;
            for (Line line : lines) {
                canvas.line(x, KEY - 8, x + 24, KEY - 8, line.pen());
                x = named(x, line.name());
            }
            for (Band band : bands) {
                canvas.rectangle(x, KEY - 12, 24, 7, Ink.HAZE);
                canvas.line(
                        new double[] {x, KEY - 12, x + 24, KEY - 12, x + 24, KEY - 5, x, KEY - 5, x, KEY - 12},
                        Pen.solid(Ink.GREY, 0.4));
                x = named(x, band.name());
            }
            for (Level level : levels) {
                canvas.line(x, KEY - 8, x + 24, KEY - 8, new Pen(Ink.SOFT, 0.7, "8 3 1 3"));
                x = named(x, level.name());
            }
        }

        private double named(double x, String name) {
            canvas.text(x + 28, KEY - 5, Anchor.START, LETTER, Ink.BLACK, name);
            // Half a letter's height is the mean width of a letter.
            return x + 28 + 0.52 * LETTER * name.length() + 14;
        }

        private double x(double timeS) {
            return LEFT + (WIDTH - LEFT - RIGHT) * Math.max(0, Math.min(lengthS, timeS)) / lengthS;
        }

        private double y(double value) {
            double low = figures.get(0);
            double high = figures.get(figures.size() - 1);
            double base = height - BOTTOM;
            return base - (base - top) * (Math.max(low, Math.min(high, value)) - low) / (high - low);
        }
    }

    /** Marks within the axis of time only. */
    public static List<Mark> within(List<Mark> marks, double lengthS) {
        List<Mark> kept = new ArrayList<>(marks);
        kept.removeIf(mark -> mark.timeS() < 0 || mark.timeS() > lengthS);
        return kept;
    }
}
