package org.bankfire.daemon.report.document;

import java.io.IOException;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.PDPageContentStream.AppendMode;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.graphics.state.RenderingMode;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.destination.PDPageXYZDestination;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDDocumentOutline;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDOutlineItem;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;

/** The sheets of a PDF, filled from top to bottom, one after the other. Lengths are points. */
final class PdfSheets implements AutoCloseable {
    private static final double MARGIN = 48;
    private static final double FOOT = 26;
    private static final double FOOT_LETTER = 7.5;
    /** Heavy letters are the font's own with their outline drawn, this part of their size wide. */
    private static final double HEAVY = 0.028;

    private final PDDocument document;
    private final PdfLetters letters;
    private final PDRectangle paper;
    private final PDDocumentOutline outline = new PDDocumentOutline();
    private PDPage page;
    private PDPageContentStream sheet;
    private double y;

    PdfSheets(PDDocument document, PdfLetters letters, double widthPt, double heightPt) throws IOException {
        this.document = document;
        this.letters = letters;
        this.paper = new PDRectangle((float) widthPt, (float) heightPt);
        document.getDocumentCatalog().setDocumentOutline(outline);
        page = new PDPage(paper);
        document.addPage(page);
        sheet = new PDPageContentStream(document, page);
        y = paper.getHeight() - MARGIN;
    }

    /** Width between the margins. */
    double width() {
        return paper.getWidth() - 2 * MARGIN;
    }

    private double lowest() {
        return MARGIN + FOOT;
    }

    private void turn() throws IOException {
        sheet.close();
        page = new PDPage(paper);
        document.addPage(page);
        sheet = new PDPageContentStream(document, page);
        y = paper.getHeight() - MARGIN;
    }

    /**
     * Turns to the next sheet when less than that is left on this one.
     *
     * @return whether it turned
     */
    boolean need(double height) throws IOException {
        if (y - height >= lowest() || y >= paper.getHeight() - MARGIN) {
            return false;
        }
        turn();
        return true;
    }

    /** Leaves room, but none at the top of a sheet. */
    void space(double height) {
        if (y < paper.getHeight() - MARGIN) {
            y -= height;
        }
    }

    /** Goes down a line, or to the next sheet. */
    void newLine(double height) throws IOException {
        if (y - height < lowest()) {
            turn();
        }
        y -= height;
    }

    /** Sets a line of settable text, in the order in which it is seen, on the present line. */
    void text(double left, double size, boolean heavy, Ink ink, String line) throws IOException {
        if (line.isEmpty()) {
            return;
        }
        PdfCanvas.fill(sheet, ink);
        sheet.beginText();
        if (heavy) {
            PdfCanvas.stroke(sheet, ink);
            sheet.setLineWidth((float) (HEAVY * size));
            sheet.setRenderingMode(RenderingMode.FILL_STROKE);
        } else {
            sheet.setRenderingMode(RenderingMode.FILL);
        }
        sheet.setFont(letters.font(), (float) size);
        sheet.newLineAtOffset((float) (MARGIN + left), (float) (y + 0.25 * size));
        sheet.showText(line);
        sheet.endText();
        sheet.setRenderingMode(RenderingMode.FILL);
    }

    /** A line over the whole width. */
    void rule(Pen pen) {
        drawOn(MARGIN, y, 1, canvas -> canvas.line(0, 0, width(), 0, pen));
        y -= 1;
    }

    /** How high a drawing is when it is drawn with {@code below} more on one sheet. */
    double heightOf(Drawing drawing, double below) {
        return drawing.height() * scaleOf(drawing, below);
    }

    private double scaleOf(Drawing drawing, double below) {
        double whole = paper.getHeight() - MARGIN - lowest();
        return Math.min(width() / Drawing.WIDTH, (whole - below) / drawing.height());
    }

    /** Draws a drawing over the whole width, on the next sheet when it does not fit with {@code below} more. */
    void draw(Drawing drawing, double below) throws IOException {
        double scale = scaleOf(drawing, below);
        double height = drawing.height() * scale;
        need(height + below);
        drawOn(MARGIN, y, scale, drawing::drawOn);
        y -= height;
    }

    @FunctionalInterface
    private interface Drawn {
        void on(Canvas canvas);
    }

    private void drawOn(double left, double top, double scale, Drawn drawn) {
        PdfCanvas canvas = new PdfCanvas(sheet, letters, left, top, scale);
        drawn.on(canvas);
        try {
            canvas.finish();
            sheet.setLineDashPattern(new float[0], 0);
        } catch (IOException failure) {
            throw new java.io.UncheckedIOException("drawing on a sheet", failure);
        }
    }

    /** A line of the outline that leads here. */
    void bookmark(String title) {
        PDPageXYZDestination here = new PDPageXYZDestination();
        here.setPage(page);
        here.setTop((int) Math.ceil(y));
        PDOutlineItem item = new PDOutlineItem();
        item.setTitle(title);
        item.setDestination(here);
        outline.addLast(item);
    }

    /** Writes the foot of every sheet, with its number. */
    void finish(String foot) throws IOException {
        sheet.close();
        int pages = document.getNumberOfPages();
        for (int i = 0; i < pages; i++) {
            PDPage each = document.getPage(i);
            sheet = new PDPageContentStream(document, each, AppendMode.APPEND, true, true);
            y = MARGIN;
            String number = "sheet " + (i + 1) + " of " + pages;
            double numberWidth = letters.width(number, FOOT_LETTER);
            String line =
                    letters.lines(foot, FOOT_LETTER, width() - numberWidth - 20).get(0);
            text(0, FOOT_LETTER, false, Ink.SOFT, line);
            text(width() - numberWidth, FOOT_LETTER, false, Ink.SOFT, number);
            sheet.close();
        }
    }

    @Override
    public void close() throws IOException {
        sheet.close();
    }
}
