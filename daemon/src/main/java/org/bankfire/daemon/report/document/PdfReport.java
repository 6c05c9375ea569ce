package org.bankfire.daemon.report.document;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.GregorianCalendar;
import java.util.List;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentInformation;
import org.apache.pdfbox.pdmodel.interactive.viewerpreferences.PDViewerPreferences;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Column;
import org.bankfire.daemon.report.document.ReportContent.Entries;
import org.bankfire.daemon.report.document.ReportContent.Entry;
import org.bankfire.daemon.report.document.ReportContent.Fact;
import org.bankfire.daemon.report.document.ReportContent.Facts;
import org.bankfire.daemon.report.document.ReportContent.Figure;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;
import org.bankfire.daemon.report.document.ReportContent.Section;
import org.bankfire.daemon.report.document.ReportContent.Table;

/**
 * A report as a PDF 1.6: text that can be searched, charts as lines, the font embedded. Nothing of the PDF library is loaded
 * before one is asked for.
 */
public final class PdfReport {
    private static final double BODY = 9.5;
    private static final double SMALL = 8.5;
    private static final double TITLE = 18;
    private static final double HEADING = 12.5;
    private static final double LEADING = 1.35;
    private static final double NAME_WIDTH = 118;
    private static final double MARK_WIDTH = 20;
    private static final double TIME_WIDTH = 98;
    private static final double CELL_GAP = 8;
    /** A heading does not stand alone at the foot of a sheet. */
    private static final double WITH_HEADING = 64;
    /** Room for a caption. */
    private static final double BELOW_FIGURE = 3 * SMALL * LEADING;
    /** A higher row is parted between two sheets. */
    private static final double MOST_WHOLE_ROW = 200;

    private final PdfSheets sheets;
    private final PdfLetters letters;

    private PdfReport(PdfSheets sheets, PdfLetters letters) {
        this.sheets = sheets;
        this.letters = letters;
    }

    /**
     * Writes a report.
     *
     * @param widthPt of the paper, points
     * @param heightPt of the paper, points
     * @param made when it is made
     */
    public static byte[] of(ReportContent content, double widthPt, double heightPt, Instant made) {
        try (PDDocument document = new PDDocument()) {
            PdfLetters letters = new PdfLetters(document);
            describe(document, letters.settable(content.title()), made);
            try (PdfSheets sheets = new PdfSheets(document, letters, widthPt, heightPt)) {
                new PdfReport(sheets, letters).write(content);
                sheets.finish(content.foot());
            }
            ByteArrayOutputStream bytes = new ByteArrayOutputStream(131_072);
            document.save(bytes);
            return bytes.toByteArray();
        } catch (IOException failure) {
            throw new UncheckedIOException("the PDF of \"" + content.title() + "\" cannot be made", failure);
        }
    }

    private static void describe(PDDocument document, String title, Instant made) {
        PDDocumentInformation information = document.getDocumentInformation();
        information.setTitle(title);
        information.setCreator("Bankfire");
        information.setCreationDate(GregorianCalendar.from(made.atZone(ZoneOffset.UTC)));
        document.getDocumentCatalog().setLanguage("en");
        PDViewerPreferences shown = new PDViewerPreferences(new org.apache.pdfbox.cos.COSDictionary());
        shown.setDisplayDocTitle(true);
        document.getDocumentCatalog().setViewerPreferences(shown);
    }

    private void write(ReportContent content) throws IOException {
        paragraph(content.title(), TITLE, true, 0, sheets.width());
        sheets.space(2);
        paragraph(content.subtitle(), BODY, false, 0, sheets.width());
        for (Section section : content.sections()) {
            sheets.space(12);
            sheets.need(WITH_HEADING + firstFigure(section));
            sheets.bookmark(letters.settable(section.title()));
            paragraph(section.title(), HEADING, true, 0, sheets.width());
            sheets.rule(Pen.solid(Ink.BLACK, 0.7));
            sheets.space(4);
            for (Block block : section.blocks()) {
                block(block);
                sheets.space(4);
            }
        }
        if (letters.boxed()) {
            sheets.space(8);
            paragraph(
                    "An empty box stands for a sign that this document's font does not have; the printable page shows it.",
                    SMALL,
                    false,
                    0,
                    sheets.width());
        }
    }

    /** What a heading's first picture takes beside a few lines; 0 without one. */
    private double firstFigure(Section section) {
        return !section.blocks().isEmpty() && section.blocks().get(0) instanceof Figure figure
                ? sheets.heightOf(figure.drawing(), BELOW_FIGURE)
                : 0;
    }

    private void block(Block block) throws IOException {
        if (block instanceof Paragraph paragraph) {
            if (paragraph.weighty()) {
                framed(paragraph.text());
            } else {
                paragraph(paragraph.text(), BODY, false, 0, sheets.width());
            }
        } else if (block instanceof Bullets bullets) {
            for (String item : bullets.items()) {
                hanging("•", 10, item);
            }
        } else if (block instanceof Facts facts) {
            for (Fact fact : facts.facts()) {
                fact(fact);
            }
        } else if (block instanceof Table table) {
            table(table);
        } else if (block instanceof Entries entries) {
            for (Entry entry : entries.entries()) {
                entry(entry);
            }
        } else if (block instanceof Figure figure) {
            figure(figure);
        }
    }

    private void paragraph(String text, double size, boolean heavy, double left, double width) throws IOException {
        for (String line : letters.lines(text, size, width)) {
            sheets.newLine(size * LEADING);
            sheets.text(left, size, heavy, Ink.BLACK, line);
        }
    }

    /** Between two heavy rules, which may stand on two sheets. */
    private void framed(String text) throws IOException {
        sheets.need(3 * BODY * LEADING);
        sheets.rule(Pen.solid(Ink.BLACK, 1.5));
        sheets.space(2);
        paragraph(text, BODY, true, 0, sheets.width());
        sheets.space(3);
        sheets.rule(Pen.solid(Ink.BLACK, 1.5));
    }

    private void hanging(String mark, double indent, String text) throws IOException {
        boolean first = true;
        for (String line : letters.lines(text, BODY, sheets.width() - indent)) {
            sheets.newLine(BODY * LEADING);
            if (first) {
                sheets.text(0, BODY, false, Ink.BLACK, mark);
            }
            sheets.text(indent, BODY, false, Ink.BLACK, line);
            first = false;
        }
    }

    private void fact(Fact fact) throws IOException {
        double width = sheets.width() - NAME_WIDTH;
        List<String> names = letters.lines(fact.name(), BODY, NAME_WIDTH - CELL_GAP);
        List<String> values = letters.lines(fact.value(), BODY, width);
        List<String> remarks = fact.remark().isEmpty() ? List.of() : letters.lines(fact.remark(), SMALL, width);
        for (int i = 0; i < Math.max(names.size(), values.size() + remarks.size()); i++) {
            int remark = i - values.size();
            sheets.newLine((remark >= 0 && i >= names.size() ? SMALL : BODY) * LEADING);
            if (i < names.size()) {
                sheets.text(0, BODY, true, Ink.BLACK, names.get(i));
            }
            if (remark < 0) {
                sheets.text(NAME_WIDTH, BODY, false, Ink.BLACK, values.get(i));
            } else if (remark < remarks.size()) {
                sheets.text(NAME_WIDTH, SMALL, false, Ink.SOFT, remarks.get(remark));
            }
        }
        sheets.space(2);
    }

    private void entry(Entry entry) throws IOException {
        double left = MARK_WIDTH + TIME_WIDTH;
        List<String> times = letters.lines(entry.time(), BODY, TIME_WIDTH - CELL_GAP);
        List<String> texts = letters.lines(entry.text(), BODY, sheets.width() - left);
        for (int i = 0; i < Math.max(times.size(), texts.size()); i++) {
            sheets.newLine(BODY * LEADING);
            if (i == 0) {
                sheets.text(0, BODY, true, Ink.BLACK, letters.settable(entry.mark()));
            }
            if (i < times.size()) {
                sheets.text(MARK_WIDTH, BODY, false, Ink.BLACK, times.get(i));
            }
            if (i < texts.size()) {
                sheets.text(left, BODY, false, Ink.BLACK, texts.get(i));
            }
        }
        sheets.space(1.5);
    }

    private void table(Table table) throws IOException {
        double shares = table.columns().stream().mapToDouble(Column::share).sum();
        List<Cell> cells = new ArrayList<>();
        double left = 0;
        for (Column column : table.columns()) {
            double width = sheets.width() * column.share() / shares;
            cells.add(new Cell(left, width - CELL_GAP, column.figures()));
            left += width;
        }
        List<String> heads = table.columns().stream().map(Column::head).toList();
        sheets.need(4 * BODY * LEADING);
        row(cells, heads, true);
        sheets.rule(Pen.solid(Ink.SOFT, 0.7));
        for (List<String> row : table.rows()) {
            if (sheets.need(Math.min(MOST_WHOLE_ROW, rowHeight(cells, row)))) {
                row(cells, heads, true);
                sheets.rule(Pen.solid(Ink.SOFT, 0.7));
            }
            row(cells, row, false);
            sheets.rule(Pen.solid(Ink.RULE, 0.5));
        }
        sheets.space(2);
        for (String line : letters.lines(table.caption(), SMALL, sheets.width())) {
            sheets.newLine(SMALL * LEADING);
            sheets.text(0, SMALL, false, Ink.SOFT, line);
        }
    }

    private record Cell(double left, double width, boolean figures) {}

    private double rowHeight(List<Cell> cells, List<String> texts) throws IOException {
        int most = 0;
        for (int i = 0; i < cells.size(); i++) {
            most = Math.max(
                    most,
                    letters.lines(texts.get(i), BODY, cells.get(i).width()).size());
        }
        return most * BODY * LEADING + 3;
    }

    private void row(List<Cell> cells, List<String> texts, boolean head) throws IOException {
        List<List<String>> lines = new ArrayList<>();
        int most = 0;
        for (int i = 0; i < cells.size(); i++) {
            lines.add(letters.lines(texts.get(i), BODY, cells.get(i).width()));
            most = Math.max(most, lines.get(i).size());
        }
        for (int line = 0; line < most; line++) {
            sheets.newLine(BODY * LEADING);
            for (int i = 0; i < cells.size(); i++) {
                Cell cell = cells.get(i);
                if (line < lines.get(i).size()) {
                    String text = lines.get(i).get(line);
                    double shift = cell.figures() ? cell.width() - letters.width(text, BODY) : 0;
                    sheets.text(cell.left() + shift, BODY, head, Ink.BLACK, text);
                }
            }
        }
        sheets.space(2);
    }

    private void figure(Figure figure) throws IOException {
        sheets.space(3);
        sheets.draw(figure.drawing(), BELOW_FIGURE);
        for (String line : letters.lines(figure.caption(), SMALL, sheets.width())) {
            sheets.newLine(SMALL * LEADING);
            sheets.text(0, SMALL, false, Ink.SOFT, line);
        }
    }
}
