package org.bankfire.daemon.report.document;

import java.util.List;
import org.bankfire.daemon.report.document.Canvas.Anchor;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;

/**
 * Bars of parts, a row for each stretch, each with a heavy upright stroke where the whole comes to. Parts are told apart by
 * their patterns; a key names them.
 *
 * @param title what it is
 * @param description what it tells, in a sentence
 * @param unit of the figures
 * @param rowsName what the rows are
 * @param parts names of the parts, as many as there are patterns at most, in the order of the bar
 * @param strokeName what the upright stroke is
 * @param rows in order
 */
public record BarChart(
        String title,
        String description,
        String unit,
        String rowsName,
        List<String> parts,
        String strokeName,
        List<Row> rows)
        implements Drawing {
    private static final double LEFT = 62;
    private static final double RIGHT = 40;
    private static final double ROW = 15;
    private static final double BAR = 11;
    private static final double KEY = 16;
    private static final double TOP = KEY + 14;
    private static final double BOTTOM = 26;
    private static final double LETTER = 8;

    /**
     * One bar.
     *
     * @param name of the stretch
     * @param whole where the upright stroke stands
     * @param parts one value for each part; what is below 0 is not drawn
     */
    public record Row(String name, double whole, List<Double> parts) {
        public Row {
            parts = List.copyOf(parts);
        }
    }

    public BarChart {
        parts = List.copyOf(parts);
        rows = List.copyOf(rows);
    }

    @Override
    public double height() {
        return TOP + ROW * rows.size() + BOTTOM;
    }

    @Override
    public void drawOn(Canvas canvas) {
        double most = 0;
        for (Row row : rows) {
            double sum = 0;
            for (double part : row.parts()) {
                sum += Math.max(0, part);
            }
            most = Math.max(most, Math.max(sum, row.whole()));
        }
        List<Double> figures = Scale.figures(0, Math.max(most, 1e-3));
        double high = figures.get(figures.size() - 1);
        axis(canvas, figures, high);
        for (int i = 0; i < rows.size(); i++) {
            row(canvas, rows.get(i), TOP + i * ROW, high);
        }
        key(canvas);
    }

    private void axis(Canvas canvas, List<Double> figures, double high) {
        double base = TOP + ROW * rows.size();
        double step = figures.get(1) - figures.get(0);
        for (double figure : figures) {
            double x = x(figure, high);
            canvas.line(x, TOP - 2, x, base + 2, Pen.solid(Ink.RULE, 0.5));
            canvas.text(x, base + 11, Anchor.MIDDLE, LETTER, Ink.BLACK, Scale.words(figure, step));
        }
        canvas.text((LEFT + WIDTH - RIGHT) / 2, base + 22, Anchor.MIDDLE, LETTER, Ink.SOFT, unit);
        canvas.text(LEFT - 6, TOP - 4, Anchor.END, LETTER, Ink.SOFT, rowsName);
        canvas.text(WIDTH, TOP - 4, Anchor.END, LETTER, Ink.SOFT, strokeName);
    }

    private void row(Canvas canvas, Row row, double top, double high) {
        canvas.text(LEFT - 6, top + BAR - 2, Anchor.END, LETTER, Ink.BLACK, row.name());
        double from = 0;
        for (int i = 0; i < row.parts().size(); i++) {
            double part = row.parts().get(i);
            if (part > 0) {
                pattern(canvas, i, x(from, high), top, x(from + part, high) - x(from, high), BAR);
                from += part;
            }
        }
        double x = x(row.whole(), high);
        canvas.line(x, top - 2, x, top + BAR + 2, Pen.solid(Ink.BLACK, 2));
        canvas.text(WIDTH, top + BAR - 2, Anchor.END, LETTER, Ink.BLACK, Scale.words(row.whole(), 0.1));
    }

    private void key(Canvas canvas) {
        double x = 0;
        for (int i = 0; i < parts.size(); i++) {
            pattern(canvas, i, x, 2, 20, 9);
            canvas.text(x + 24, 9.5, Anchor.START, LETTER, Ink.BLACK, parts.get(i));
            // Half a letter's height is the mean width of a letter.
            x += 24 + 0.52 * LETTER * parts.get(i).length() + 12;
        }
    }

    private double x(double value, double high) {
        return LEFT + (WIDTH - LEFT - RIGHT) * Math.max(0, value) / high;
    }

    /** Dark, light, slanting lines, upright lines, level lines: told apart in black and white. */
    private static void pattern(Canvas canvas, int kind, double left, double top, double width, double height) {
        Ink ground = switch (kind) {
            case 0 -> Ink.SOFT;
            case 1 -> Ink.GREY;
            default -> Ink.WHITE;
        };
        canvas.rectangle(left, top, width, height, ground);
        Pen hair = Pen.solid(Ink.BLACK, 0.5);
        if (kind == 2) {
            for (double at = 3; at < width + height; at += 3.5) {
                // The line from (left + at, top) down to the left, cut at both ends of the bar.
                double low = Math.max(0, at - width);
                double high = Math.min(height, at);
                if (high > low) {
                    canvas.line(left + at - low, top + low, left + at - high, top + high, hair);
                }
            }
        } else if (kind == 3) {
            for (double at = 2; at < width; at += 2.5) {
                canvas.line(left + at, top, left + at, top + height, hair);
            }
        } else if (kind == 4) {
            for (double at = 2.5; at < height; at += 3) {
                canvas.line(left, top + at, left + width, top + at, hair);
            }
        }
        canvas.line(
                new double[] {left, top, left + width, top, left + width, top + height, left, top + height, left, top},
                hair);
    }
}
