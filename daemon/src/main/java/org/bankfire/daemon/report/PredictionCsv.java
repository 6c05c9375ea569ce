package org.bankfire.daemon.report;

import java.io.IOException;
import java.io.Writer;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.Prediction.Point;

/** A predicted curve as CSV (RFC 4180), one moment a row; a band that was not asked for leaves its cells empty. */
public final class PredictionCsv {
    private PredictionCsv() {}

    /** Writes header and rows. */
    public static void write(Prediction prediction, Writer out) throws IOException {
        out.write("tS,gasPa,chamberC,low95C,high95C,hotFaceC,shellC,gasKg,"
                + "inputW,flueW,liningW,openingsW,stockW,storedW\n");
        for (Point point : prediction.curve()) {
            Band chamberC = Figures.celsius(point.chamberK());
            out.write(String.join(
                    ",",
                    cell(point.timeS(), 3),
                    cell(point.gaugePa(), 1),
                    cell(chamberC.value(), 2),
                    cell(chamberC.low95(), 2),
                    cell(chamberC.high95(), 2),
                    cell(Figures.celsius(point.hotFaceK()), 2),
                    cell(Figures.celsius(point.shellK()), 2),
                    cell(point.gasKg(), 6),
                    cell(point.ledgerW().input(), 3),
                    cell(point.ledgerW().flue(), 3),
                    cell(point.ledgerW().lining(), 3),
                    cell(point.ledgerW().openings(), 3),
                    cell(point.ledgerW().stock(), 3),
                    cell(point.ledgerW().stored(), 3)));
            out.write('\n');
        }
        out.flush();
    }

    private static String cell(double value, int digits) {
        return Double.isFinite(value) ? Figures.rounded(value, digits).toPlainString() : "";
    }
}
