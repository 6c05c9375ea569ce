package org.bankfire.daemon.report.document;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.report.document.Canvas.Ink;
import org.bankfire.daemon.report.document.Canvas.Pen;
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
import org.bankfire.daemon.report.document.TimeChart.Band;
import org.bankfire.daemon.report.document.TimeChart.Level;
import org.bankfire.daemon.report.document.TimeChart.Line;
import org.bankfire.daemon.report.document.TimeChart.Mark;
import org.bankfire.daemon.report.document.TimeChart.Spot;
import org.bankfire.daemon.report.document.TimeChart.Spread;

/** Reports of every kind of block, and what people or broken programs may write into them. */
final class Samples {
    /** What a name or note may hold. */
    static final List<String> HOSTILE = List.of(
            "<script>alert(1)</script>&amp;\"'><img src=x onerror=alert(1)>",
            "]]><!-- <b1> -->",
            "bell\u0007 nul\u0000 escape\u001b[31m del\u007f c1\u0085",
            "half \uD83D and \uDD25 pair",
            "not a character \uFFFE \uFFFF \uFDD0",
            "fire \uD83D\uDD25, family \uD83D\uDC68\u200D\uD83D\uDC69\u200D\uD83D\uDC67, flag \uD83C\uDDF3\uD83C\uDDF4",
            "turned \u202Eround\u202C and \u2067away",
            "\u05E9\u05DC\u05D5\u05DD (\u05E2\u05D5\u05DC\u05DD) 12 \u05D0",
            "\u0645\u0631\u062D\u0628\u0627 \u0628\u0627\u0644\u0639\u0627\u0644\u0645",
            "\u706B\u306E\u7089 \uD55C\uAD6D\uC5B4 \u0E44\u0E1F",
            "line\none\r\ntwo\ttab\u2028three",
            "combining e\u0301\u0302\u0303\u0304 z\u0335\u0336",
            "x".repeat(4_000),
            "word ".repeat(800) + "end",
            " ",
            "%PDF-1.7 (unbalanced \\ ( text) << /JS >>");

    /** How often {@link #saying} says it. */
    static final int TIMES = 8;

    private Samples() {}

    /** A report that says a text in each kind of block. */
    static ReportContent saying(String text) {
        List<Spot> spots = new ArrayList<>();
        List<Spread> spreads = new ArrayList<>();
        for (int i = 0; i < 100; i++) {
            double value = i == 50 ? Double.NaN : 20 + 1_100 * (1 - Math.exp(-i / 20.0));
            spots.add(new Spot(36 * i, value));
            spreads.add(new Spread(36 * i, value - 40, value + 40));
        }
        TimeChart curve = new TimeChart(
                "curve",
                "rises",
                "°C",
                3_600,
                200,
                true,
                List.of(new Band("band", spreads)),
                List.of(new Line("line", spots, Pen.solid(Ink.BLACK, 1))),
                List.of(new Level("target", 1_150)),
                List.of(new Mark(600, "1"), new Mark(610, "2"), new Mark(620, "A")));
        BarChart bars = new BarChart(
                "bars",
                "parts",
                "kW",
                "min",
                List.of("openings", "flue", "lining", "stock", "stored"),
                "whole",
                List.of(
                        new BarChart.Row("0–5", 8, List.of(1.0, 3.0, 0.5, 0.2, 3.3)),
                        new BarChart.Row("5–10", 0, List.of(0.5, 0.1, 0.4, 0.0, -1.0))));
        return new ReportContent(
                "T " + text,
                "subtitle",
                "foot",
                List.of(new Section(
                        "All kinds",
                        List.of(
                                new Paragraph(text, false),
                                new Paragraph(text, true),
                                new Bullets(List.of(text)),
                                new Facts(List.of(new Fact(text, text, text))),
                                new Table(
                                        "caption",
                                        List.of(new Column("a", false, 1), new Column("b", true, 2)),
                                        List.of(List.of("1", text))),
                                new Entries(List.of(new Entry("1", "10:00:00", text))),
                                new Figure(curve, "how it rises"),
                                new Figure(bars, "what it is made of")))));
    }
}
