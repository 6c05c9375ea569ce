package org.bankfire.daemon.report.burn;

import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.report.document.HtmlReport;
import org.bankfire.daemon.report.document.PdfReport;
import org.bankfire.daemon.report.document.ReportContent;
import org.bankfire.dashboard.source.ReportBook.Format;
import org.bankfire.dashboard.source.ReportBook.Paper;

/** A report as bytes. */
public final class WrittenReport {
    private static final double POINTS_PER_MM = 72 / 25.4;

    private WrittenReport() {}

    /**
     * Writes a report.
     *
     * @param paper of the PDF; a page in HTML suits any
     */
    public static byte[] of(ReportContent content, Format format, Paper paper, WallTime made) {
        return switch (format) {
            case HTML -> HtmlReport.of(content);
            case PDF ->
                PdfReport.of(
                        content, paper.widthMm() * POINTS_PER_MM, paper.heightMm() * POINTS_PER_MM, made.toInstant());
        };
    }
}
