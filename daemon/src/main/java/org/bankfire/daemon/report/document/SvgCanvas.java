package org.bankfire.daemon.report.document;

import java.util.Locale;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
import org.jspecify.annotations.Nullable;

/** Draws as SVG 1.1 inside a page. */
final class SvgCanvas implements Canvas {
    private final XMLStreamWriter svg;
    private @Nullable XMLStreamException failure;

    SvgCanvas(XMLStreamWriter svg) {
        this.svg = svg;
    }

    @FunctionalInterface
    private interface Writing {
        void run() throws XMLStreamException;
    }

    private void write(Writing writing) {
        if (failure != null) {
            return;
        }
        try {
            writing.run();
        } catch (XMLStreamException failed) {
            failure = failed;
        }
    }

    /** Tells what went wrong meanwhile. */
    void finish() throws XMLStreamException {
        if (failure != null) {
            throw failure;
        }
    }

    @Override
    public void line(double[] xy, Pen pen) {
        write(() -> {
            svg.writeEmptyElement("path");
            svg.writeAttribute("d", path(xy));
            svg.writeAttribute("stroke", colour(pen.ink()));
            svg.writeAttribute("stroke-width", number(pen.width()));
            if (!pen.dashes().isEmpty()) {
                svg.writeAttribute("stroke-dasharray", pen.dashes());
            }
        });
    }

    @Override
    public void area(double[] xy, Ink ink) {
        write(() -> {
            svg.writeEmptyElement("path");
            svg.writeAttribute("d", path(xy) + "Z");
            svg.writeAttribute("fill", colour(ink));
        });
    }

    @Override
    public void text(double x, double y, Anchor anchor, double size, Ink ink, String words) {
        write(() -> {
            svg.writeStartElement("text");
            svg.writeAttribute("x", number(x));
            svg.writeAttribute("y", number(y));
            svg.writeAttribute("font-size", number(size));
            svg.writeAttribute("fill", colour(ink));
            if (anchor != Anchor.START) {
                svg.writeAttribute("text-anchor", anchor == Anchor.END ? "end" : "middle");
            }
            svg.writeCharacters(SafeText.of(words));
            svg.writeEndElement();
        });
    }

    private static String path(double[] xy) {
        StringBuilder path = new StringBuilder(8 * xy.length);
        for (int i = 0; i < xy.length; i += 2) {
            path.append(i == 0 ? 'M' : 'L').append(number(xy[i])).append(' ').append(number(xy[i + 1]));
        }
        return path.toString();
    }

    private static String colour(Ink ink) {
        int[] parts = ink.parts();
        return String.format(Locale.ROOT, "#%02x%02x%02x", parts[0], parts[1], parts[2]);
    }

    /** With one digit after the point, a tenth of a point being less than a printer's dot; without it where it is 0. */
    static String number(double value) {
        long tenths = Math.round(value * 10);
        return tenths % 10 == 0 ? Long.toString(tenths / 10) : Double.toString(tenths / 10.0);
    }
}
