package org.bankfire.daemon.report.document;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
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
 * A report as a page that prints: one file, no script, nothing fetched, for whatever paper the printer holds. It is well-formed
 * XML as well as HTML.
 */
public final class HtmlReport {
    private static final String STYLE = """
            :root{color-scheme:light}
            body{font:11pt/1.4 "Liberation Sans",Arial,Helvetica,sans-serif;color:#1d1b19;background:#fff;margin:0 auto;max-width:180mm;padding:8mm}
            h1{font-size:19pt;line-height:1.2;margin:0 0 2mm}
            h2{font-size:13pt;margin:8mm 0 2mm;border-bottom:1px solid #1d1b19;break-after:avoid}
            p{margin:0 0 2mm;overflow-wrap:anywhere}
            .weighty{border:1.5pt solid #1d1b19;padding:2mm 3mm;font-weight:bold}
            figure{margin:2mm 0 4mm;break-inside:avoid}
            svg{display:block;width:100%;height:auto}
            figcaption,caption{font-size:9.5pt;color:#444;text-align:left;caption-side:bottom}
            dl.facts{display:grid;grid-template-columns:42mm 1fr;gap:1mm 4mm;margin:0}
            dl.facts dt{font-weight:bold}dl.facts dd{margin:0;overflow-wrap:anywhere}dl.facts small{display:block;font-size:9.5pt;color:#444}
            table{border-collapse:collapse;width:100%;margin:1mm 0 3mm;font-size:10pt}
            th,td{padding:.8mm 2mm;text-align:left;vertical-align:top;border-bottom:.5pt solid #999;overflow-wrap:break-word}
            th.n,td.n{text-align:right;font-variant-numeric:tabular-nums}
            thead{display:table-header-group}tr{break-inside:avoid}
            ul.points{margin:0;padding-left:5mm}ul.points li{margin-bottom:1mm;overflow-wrap:anywhere}
            ol.log{list-style:none;margin:0;padding:0}
            ol.log li{display:grid;grid-template-columns:7mm 34mm 1fr;gap:2mm;padding:.6mm 0}
            ol.log b{font-weight:bold}ol.log span{overflow-wrap:anywhere;min-width:0}
            footer{margin-top:8mm;border-top:1px solid #1d1b19;padding-top:2mm;font-size:9.5pt}
            @media (max-width:520px){dl.facts{grid-template-columns:1fr;gap:0}dl.facts dd{margin-bottom:2mm}ol.log li{grid-template-columns:7mm 1fr}ol.log span{grid-column:2}.scroll{overflow-x:auto}}
            @page{margin:16mm}
            @media print{body{padding:0;max-width:none}}
            """;

    private final XMLStreamWriter xml;

    private HtmlReport(XMLStreamWriter xml) {
        this.xml = xml;
    }

    /** Writes a report, in UTF-8. */
    public static byte[] of(ReportContent content) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(65_536);
        bytes.writeBytes("<!DOCTYPE html>\n".getBytes(StandardCharsets.US_ASCII));
        try {
            XMLStreamWriter xml = XMLOutputFactory.newFactory().createXMLStreamWriter(bytes, "UTF-8");
            new HtmlReport(xml).write(content);
            xml.flush();
        } catch (XMLStreamException failure) {
            throw new IllegalStateException("writing a page to memory", failure);
        }
        return bytes.toByteArray();
    }

    private void write(ReportContent content) throws XMLStreamException {
        open("html", "lang", "en");
        open("head");
        empty("meta", "charset", "utf-8");
        empty("meta", "name", "viewport", "content", "width=device-width,initial-scale=1");
        element("title", content.title());
        element("style", STYLE);
        close();
        open("body");
        open("header");
        element("h1", content.title(), "dir", "auto");
        element("p", content.subtitle());
        close();
        open("main");
        for (Section section : content.sections()) {
            open("section");
            element("h2", section.title());
            for (Block block : section.blocks()) {
                block(block);
            }
            close();
        }
        close();
        element("footer", content.foot());
        close();
        close();
    }

    private void block(Block block) throws XMLStreamException {
        if (block instanceof Paragraph paragraph) {
            element("p", paragraph.text(), "dir", "auto", "class", paragraph.weighty() ? "weighty" : "text");
        } else if (block instanceof Bullets bullets) {
            open("ul", "class", "points");
            for (String item : bullets.items()) {
                element("li", item, "dir", "auto");
            }
            close();
        } else if (block instanceof Facts facts) {
            facts(facts);
        } else if (block instanceof Table table) {
            table(table);
        } else if (block instanceof Entries entries) {
            entries(entries);
        } else if (block instanceof Figure figure) {
            figure(figure);
        }
    }

    private void facts(Facts facts) throws XMLStreamException {
        open("dl", "class", "facts");
        for (Fact fact : facts.facts()) {
            element("dt", fact.name(), "dir", "auto");
            open("dd", "dir", "auto");
            words(fact.value());
            if (!fact.remark().isEmpty()) {
                element("small", fact.remark());
            }
            close();
        }
        close();
    }

    private void table(Table table) throws XMLStreamException {
        open("div", "class", "scroll");
        open("table");
        element("caption", table.caption());
        open("thead");
        open("tr");
        for (Column column : table.columns()) {
            element("th", column.head(), "scope", "col", "class", column.figures() ? "n" : "w");
        }
        close();
        close();
        open("tbody");
        for (List<String> row : table.rows()) {
            open("tr");
            for (int i = 0; i < row.size(); i++) {
                String kind = table.columns().get(i).figures() ? "n" : "w";
                if (i == 0) {
                    element("th", row.get(i), "scope", "row", "class", kind);
                } else {
                    element("td", row.get(i), "class", kind);
                }
            }
            close();
        }
        close();
        close();
        close();
    }

    private void entries(Entries entries) throws XMLStreamException {
        open("ol", "class", "log");
        for (Entry entry : entries.entries()) {
            open("li");
            element("b", entry.mark());
            element("span", entry.time());
            element("span", entry.text(), "dir", "auto");
            close();
        }
        close();
    }

    private void figure(Figure figure) throws XMLStreamException {
        Drawing drawing = figure.drawing();
        open("figure");
        open(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "viewBox",
                "0 0 " + SvgCanvas.number(Drawing.WIDTH) + " " + SvgCanvas.number(drawing.height()),
                "role",
                "img",
                "font-family",
                "Liberation Sans,Arial,Helvetica,sans-serif",
                "fill",
                "none");
        element("title", drawing.title());
        element("desc", drawing.description());
        SvgCanvas canvas = new SvgCanvas(xml);
        drawing.drawOn(canvas);
        canvas.finish();
        close();
        element("figcaption", figure.caption());
        close();
    }

    private void element(String name, String text, String... attributes) throws XMLStreamException {
        open(name, attributes);
        words(text);
        close();
    }

    private void open(String name, String... attributes) throws XMLStreamException {
        xml.writeStartElement(name);
        attributes(attributes);
    }

    private void empty(String name, String... attributes) throws XMLStreamException {
        xml.writeEmptyElement(name);
        attributes(attributes);
    }

    private void attributes(String... attributes) throws XMLStreamException {
        for (int i = 0; i < attributes.length; i += 2) {
            xml.writeAttribute(attributes[i], SafeText.of(attributes[i + 1]));
        }
    }

    private void words(String text) throws XMLStreamException {
        xml.writeCharacters(SafeText.of(text));
    }

    private void close() throws XMLStreamException {
        xml.writeEndElement();
    }
}
