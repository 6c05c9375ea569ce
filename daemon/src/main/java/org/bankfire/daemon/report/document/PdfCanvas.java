package org.bankfire.daemon.report.document;

import java.io.IOException;
import java.util.Arrays;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.jspecify.annotations.Nullable;

/** Draws on a sheet of a PDF. */
final class PdfCanvas implements Canvas {
    private static final float PARTS = 255;

    private final PDPageContentStream sheet;
    private final PdfLetters letters;
    private final double left;
    private final double top;
    private final double scale;
    private @Nullable IOException failure;

    /**
     * A part of a sheet.
     *
     * @param left where x is 0, in the sheet's points
     * @param top where y is 0, in the sheet's points from its lower edge
     * @param scale the sheet's points for each of the drawing's
     */
    PdfCanvas(PDPageContentStream sheet, PdfLetters letters, double left, double top, double scale) {
        this.sheet = sheet;
        this.letters = letters;
        this.left = left;
        this.top = top;
        this.scale = scale;
    }

    @FunctionalInterface
    private interface Writing {
        void run() throws IOException;
    }

    private void write(Writing writing) {
        if (failure != null) {
            return;
        }
        try {
            writing.run();
        } catch (IOException failed) {
            failure = failed;
        }
    }

    /** Tells what went wrong meanwhile. */
    void finish() throws IOException {
        if (failure != null) {
            throw failure;
        }
    }

    @Override
    public void line(double[] xy, Pen pen) {
        write(() -> {
            stroke(sheet, pen.ink());
            sheet.setLineWidth((float) (pen.width() * scale));
            sheet.setLineDashPattern(dashes(pen), 0);
            path(xy);
            sheet.stroke();
        });
    }

    private float[] dashes(Pen pen) {
        if (pen.dashes().isEmpty()) {
            return new float[0];
        }
        double[] lengths = Arrays.stream(pen.dashes().split(" ", -1))
                .mapToDouble(Double::parseDouble)
                .toArray();
        float[] scaled = new float[lengths.length];
        for (int i = 0; i < lengths.length; i++) {
            scaled[i] = (float) (lengths[i] * scale);
        }
        return scaled;
    }

    @Override
    public void area(double[] xy, Ink ink) {
        write(() -> {
            fill(sheet, ink);
            path(xy);
            sheet.closePath();
            sheet.fill();
        });
    }

    private void path(double[] xy) throws IOException {
        sheet.moveTo(x(xy[0]), y(xy[1]));
        for (int i = 2; i < xy.length; i += 2) {
            sheet.lineTo(x(xy[i]), y(xy[i + 1]));
        }
    }

    @Override
    public void text(double x, double y, Anchor anchor, double size, Ink ink, String words) {
        write(() -> {
            String settable = PdfLetters.visual(letters.settable(words));
            double width = letters.width(settable, size);
            double shift = switch (anchor) {
                case START -> 0;
                case MIDDLE -> -width / 2;
                case END -> -width;
            };
            if (settable.isEmpty()) {
                return;
            }
            fill(sheet, ink);
            sheet.beginText();
            sheet.setFont(letters.font(), (float) (size * scale));
            sheet.newLineAtOffset(x(x + shift), y(y));
            sheet.showText(settable);
            sheet.endText();
        });
    }

    static void fill(PDPageContentStream sheet, Ink ink) throws IOException {
        int[] parts = ink.parts();
        sheet.setNonStrokingColor(parts[0] / PARTS, parts[1] / PARTS, parts[2] / PARTS);
    }

    static void stroke(PDPageContentStream sheet, Ink ink) throws IOException {
        int[] parts = ink.parts();
        sheet.setStrokingColor(parts[0] / PARTS, parts[1] / PARTS, parts[2] / PARTS);
    }

    private float x(double x) {
        return (float) (left + x * scale);
    }

    private float y(double y) {
        return (float) (top - y * scale);
    }
}
