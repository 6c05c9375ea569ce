package org.bankfire.daemon.report.document;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The PDF, read back: what it says, its fonts, and that nothing lies outside the sheet. */
final class PdfReportTest {
    private static final double A4_WIDTH = 595.276;
    private static final double A4_HEIGHT = 841.89;
    private static final Instant MADE = Instant.parse("2026-03-02T10:00:00Z");

    private static List<String> hostile() {
        return Samples.HOSTILE;
    }

    private static PDDocument open(ReportContent content) throws IOException {
        return Loader.loadPDF(PdfReport.of(content, A4_WIDTH, A4_HEIGHT, MADE));
    }

    /** Letters of a document that lie outside the sheet's margins. */
    static List<String> outside(PDDocument document, double marginPt) throws IOException {
        List<String> outside = new ArrayList<>();
        PDFTextStripper stripper = new PDFTextStripper() {
            @Override
            protected void writeString(String text, List<TextPosition> positions) {
                for (TextPosition at : positions) {
                    double right = at.getXDirAdj() + at.getWidthDirAdj();
                    boolean inside = at.getXDirAdj() >= marginPt
                            && right <= at.getPageWidth() - marginPt + 0.5
                            && at.getYDirAdj() - at.getHeightDir() >= marginPt / 2
                            && at.getYDirAdj() <= at.getPageHeight() - marginPt / 2;
                    if (!inside) {
                        outside.add(at.getUnicode() + " at " + at.getXDirAdj() + ", " + at.getYDirAdj());
                    }
                }
            }
        };
        stripper.getText(document);
        return outside;
    }

    @ParameterizedTest
    @MethodSource("hostile")
    void whateverSomebodyWroteStaysOnTheSheet(String text) throws Exception {
        try (PDDocument document = open(Samples.saying(text))) {
            assertThat(outside(document, 40)).isEmpty();
            assertThat(new PDFRenderer(document).renderImageWithDPI(0, 20).getWidth())
                    .isEqualTo(165);
            assertThat(document.getDocumentCatalog().getNames()).as("scripts").isNull();
        }
    }

    @Test
    void allThatIsSaidCanBeSearchedAndTheOnlyFontIsEmbedded() throws Exception {
        String said = "1.71 W/K (1.67 to 1.75) ± 3 °C, 12 cm², −40 %, λ × 1.1, inH₂O, first flame – “fi”";
        try (PDDocument document = open(Samples.saying(said))) {
            String text = new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
            assertThat(text.split(java.util.regex.Pattern.quote(said), -1).length - 1)
                    .isGreaterThanOrEqualTo(Samples.TIMES - 2);
            assertThat(text).contains("sheet 1 of " + document.getNumberOfPages());
            int fonts = 0;
            for (PDPage page : document.getPages()) {
                for (COSName name : page.getResources().getFontNames()) {
                    PDFont font = page.getResources().getFont(name);
                    assertThat(font.isEmbedded()).as(font.getName()).isTrue();
                    assertThat(font.getName()).endsWith("LiberationSans");
                    fonts++;
                }
            }
            assertThat(fonts).isPositive();
            assertThat(document.getDocumentInformation().getTitle()).isEqualTo("T " + said);
            assertThat(document.getDocumentCatalog().getLanguage()).isEqualTo("en");
        }
    }

    @Test
    void aSignThatTheFontLacksIsABoxAndTheReaderIsTold() throws Exception {
        try (PDDocument document = open(Samples.saying("roar \uD83D\uDD25 end"))) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains("roar □ end")
                    .contains("An empty box stands for a sign");
        }
        try (PDDocument document = open(Samples.saying("roar"))) {
            assertThat(new PDFTextStripper().getText(document)).doesNotContain("empty box");
        }
    }

    @Test
    void hebrewIsSetFromRightToLeft() {
        // Bidirectional algorithm, Unicode standard annex 9: numbers keep their order, brackets are mirrored.
        assertThat(PdfLetters.visual("a \u05D0\u05D1 (12) \u05D2 b")).isEqualTo("a \u05D2 (12) \u05D1\u05D0 b");
    }

    @Test
    void aLongReportGoesOnOverManySheetsWithTheHeadOfItsTable() throws Exception {
        List<List<String>> rows = new ArrayList<>();
        for (int i = 0; i < 200; i++) {
            rows.add(List.of("row " + i, "value " + i));
        }
        ReportContent.Table table = new ReportContent.Table(
                "a long one",
                List.of(new ReportContent.Column("the head", false, 1), new ReportContent.Column("figure", true, 1)),
                rows);
        ReportContent content =
                new ReportContent("long", "", "foot", List.of(new ReportContent.Section("table", List.of(table))));
        try (PDDocument document = open(content)) {
            int pages = document.getNumberOfPages();
            assertThat(pages).isBetween(4, 8);
            String text = new PDFTextStripper().getText(document);
            assertThat(text.split("the head", -1)).hasSize(pages + 1);
            for (int i = 0; i < 200; i++) {
                assertThat(text).contains("row " + i + " value " + i);
            }
            assertThat(outside(document, 40)).isEmpty();
        }
    }
}
