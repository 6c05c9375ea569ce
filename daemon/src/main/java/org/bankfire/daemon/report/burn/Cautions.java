package org.bankfire.daemon.report.burn;

import java.util.List;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Paragraph;

/** What no report goes without. */
public final class Cautions {
    private static final List<String> CAUTIONS = List.of(
            "Carbon monoxide: work with ventilation and a CO alarm. Propane is heavier than air and pools: no pits, no"
                    + " basements.",
            "After a flame-out: close the gas at the cylinder, let the chamber air out, only then relight.",
            "Ceramic fibre and silica dust, hot surfaces, ultraviolet and glare, fumes of galvanised steel.",
            "Linings of unknown make: the limit that you set is a guess. Fire slowly the first time and watch the shell.",
            "Local codes, the gas supplier’s rules and licensed practice come first.");
    private static final String NO_SAFETY_CONTROL =
            "Bankfire is an instrument and an alarm, not a burner safety control: it shuts nothing off and is certified for"
                    + " nothing. A listed flame-safeguard valve does that.";

    private Cautions() {}

    /** That nothing here is a safety control, and what harms. */
    public static List<Block> blocks() {
        return List.of(new Paragraph(NO_SAFETY_CONTROL, true), new Bullets(CAUTIONS));
    }
}
