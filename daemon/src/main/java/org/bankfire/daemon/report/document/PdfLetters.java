package org.bankfire.daemon.report.document;

import java.io.IOException;
import java.io.InputStream;
import java.text.Bidi;
import java.util.ArrayList;
import java.util.List;
import org.apache.fontbox.ttf.CmapLookup;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType0Font;

/**
 * The font of a PDF and how texts are set in it. It is the one that the PDF library itself brings along and embeds, so that a
 * report needs no font of the machine: Latin, Greek, Cyrillic and Hebrew. What it does not have is shown as an empty box.
 */
final class PdfLetters {
    /** Liberation Sans, under the SIL Open Font License 1.1. */
    private static final String FONT = "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";

    private static final int BOX = 0x25A1;
    private static final double UNITS_PER_EM = 1_000;

    private final PDFont font;
    private final CmapLookup glyphs;
    private boolean boxed;

    /** Loads the font into a document. */
    PdfLetters(PDDocument document) throws IOException {
        try (InputStream stream = PDDocument.class.getResourceAsStream(FONT)) {
            if (stream == null) {
                throw new IOException("the PDF library does not bring " + FONT);
            }
            TrueTypeFont trueType = new TTFParser().parse(new RandomAccessReadBuffer(stream));
            glyphs = trueType.getUnicodeCmapLookup();
            font = PDType0Font.load(document, trueType, true);
        }
    }

    PDFont font() {
        return font;
    }

    /** Whether any text held what the font does not have. */
    boolean boxed() {
        return boxed;
    }

    /** Text that the font can set: signs without a shape of their own are left out, unknown ones boxed. */
    String settable(String text) {
        String safe = SafeText.of(text);
        StringBuilder settable = new StringBuilder(safe.length());
        safe.codePoints().forEach(point -> {
            int type = Character.getType(point);
            boolean shapeless = type == Character.FORMAT || (point >= 0xFE00 && point <= 0xFE0F);
            if (shapeless) {
                return;
            }
            if (glyphs.getGlyphId(point) != 0) {
                settable.appendCodePoint(point);
            } else {
                settable.appendCodePoint(BOX);
                boxed = true;
            }
        });
        return settable.toString();
    }

    /** How wide a settable text is, points. */
    double width(String settable, double size) throws IOException {
        return settable.isEmpty() ? 0 : font.getStringWidth(settable) / UNITS_PER_EM * size;
    }

    /** A text in lines no wider than {@code width}, broken at spaces, and within words that are wider by themselves. */
    List<String> lines(String text, double size, double width) throws IOException {
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder();
        double spaceWidth = width(" ", size);
        double lineWidth = 0;
        for (String word : settable(text).strip().split(" +", -1)) {
            double wordWidth = width(word, size);
            if (!line.isEmpty() && lineWidth + spaceWidth + wordWidth > width) {
                lines.add(visual(line.toString()));
                line.setLength(0);
                lineWidth = 0;
            }
            String rest = word;
            while (wordWidth > width && rest.codePointCount(0, rest.length()) > 1) {
                int fits = fitting(rest, size, width);
                lines.add(visual(rest.substring(0, fits)));
                rest = rest.substring(fits);
                wordWidth = width(rest, size);
            }
            lineWidth += (line.isEmpty() ? 0 : spaceWidth) + wordWidth;
            line.append(line.isEmpty() ? "" : " ").append(rest);
        }
        lines.add(visual(line.toString()));
        return lines;
    }

    /** How many characters of a word fit, one at least. */
    private int fitting(String word, double size, double width) throws IOException {
        int end = word.offsetByCodePoints(0, 1);
        double used = width(word.substring(0, end), size);
        while (end < word.length()) {
            int next = word.offsetByCodePoints(end, 1);
            used += width(word.substring(end, next), size);
            if (used > width) {
                break;
            }
            end = next;
        }
        return end;
    }

    /** A line in the order in which it is seen, as by the Unicode bidirectional algorithm. */
    static String visual(String line) {
        if (line.isEmpty() || !Bidi.requiresBidi(line.toCharArray(), 0, line.length())) {
            return line;
        }
        Bidi bidi = new Bidi(line, Bidi.DIRECTION_DEFAULT_LEFT_TO_RIGHT);
        int runs = bidi.getRunCount();
        byte[] levels = new byte[runs];
        Object[] parts = new Object[runs];
        for (int i = 0; i < runs; i++) {
            levels[i] = (byte) bidi.getRunLevel(i);
            String part = line.substring(bidi.getRunStart(i), bidi.getRunLimit(i));
            parts[i] = (levels[i] & 1) == 1 ? mirrored(part) : part;
        }
        Bidi.reorderVisually(levels, 0, parts, 0, runs);
        StringBuilder visual = new StringBuilder(line.length());
        for (Object part : parts) {
            visual.append(part);
        }
        return visual.toString();
    }

    private static String mirrored(String part) {
        StringBuilder reversed = new StringBuilder(part).reverse();
        for (int i = 0; i < reversed.length(); i++) {
            int pair = "()[]{}<>«»".indexOf(reversed.charAt(i));
            if (pair >= 0) {
                reversed.setCharAt(i, "()[]{}<>«»".charAt(pair ^ 1));
            }
        }
        return reversed.toString();
    }
}
