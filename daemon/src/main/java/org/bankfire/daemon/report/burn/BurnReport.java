package org.bankfire.daemon.report.burn;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.report.document.ReportContent;
import org.bankfire.daemon.report.document.ReportContent.Block;
import org.bankfire.daemon.report.document.ReportContent.Bullets;
import org.bankfire.daemon.report.document.ReportContent.Fact;
import org.bankfire.daemon.report.document.ReportContent.Facts;
import org.bankfire.daemon.report.document.ReportContent.Section;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.SeriesArchive.SeriesPoint;

/** The report of one burn, to be told to any reader. */
public final class BurnReport {
    private static final double MM_PER_M = 1_000;

    private final BurnFile file;

    BurnReport(BurnFile file) {
        this.file = file;
    }

    /**
     * All that is told of the burn.
     *
     * @param made when
     */
    public ReportContent content(Reader reader, WallTime made) {
        Phrases phrases = new Phrases(reader);
        FitSections fit = new FitSections(file, phrases);
        BurnCharts charts = new BurnCharts(file, phrases);
        LogSections log = new LogSections(file, phrases);
        List<Section> sections = new ArrayList<>();
        sections.add(new Section("The burn in short", List.of(inShort(phrases))));
        sections.add(new Section("Chamber and gas over the burn", charts.curves(log.marks())));
        sections.addAll(fit.sections(charts));
        sections.add(new GasSection(file).section());
        sections.addAll(log.sections());
        sections.add(new Section("The forge as it was described", List.of(described(phrases))));
        sections.add(new Section("Read this with care", care(fit)));
        return new ReportContent(title(phrases), subtitle(phrases, made), foot(phrases), sections);
    }

    private ForgeDescription forge() {
        return file.face().description();
    }

    private String title(Phrases phrases) {
        return forge().name() + ", burn of " + phrases.day(file.burn().start());
    }

    private String subtitle(Phrases phrases, WallTime made) {
        Burn burn = file.burn();
        WallTime end = burn.end();
        String times = end == null
                ? "Lit at " + phrases.moment(burn.start(), burn.start()) + " and still burning"
                : "From " + phrases.moment(burn.start(), burn.start()) + " to " + phrases.moment(end, burn.start());
        return times + " (" + phrases.zone(burn.start()) + "). Burn " + burn.id() + ". Report made on "
                + phrases.day(made) + " at " + phrases.minute(made) + ".";
    }

    private String foot(Phrases phrases) {
        return "Burn of " + phrases.day(file.burn().start()) + ", "
                + phrases.minute(file.burn().start()) + ". An instrument and an alarm, not a burner safety control. "
                + forge().name();
    }

    private Facts inShort(Phrases phrases) {
        Burn burn = file.burn();
        WallTime end = burn.end();
        List<Fact> facts = new ArrayList<>();
        facts.add(
                end == null
                        ? new Fact("Burning for", Phrases.time(file.lengthS()), "as far as this report goes")
                        : new Fact(
                                "Burnt for", Phrases.time(end.secondsSince(burn.start())), "from gas on to gas off"));
        double peakC = Double.isFinite(burn.peakC())
                ? burn.peakC()
                : file.chamber().stream().mapToDouble(SeriesPoint::max).max().orElse(Double.NaN);
        facts.add(new Fact("Highest chamber temperature", phrases.degrees(peakC), ""));
        double targetC = file.face().settings().targetC();
        facts.add(new Fact("Target", phrases.degrees(targetC), ""));
        if (file.isFitted()) {
            double toTargetS = Phrases.number(file.fitted().path("measured"), "timeToTargetS");
            facts.add(new Fact("Time to target", Phrases.time(toTargetS), "measured, from gas on"));
        }
        if (!file.shell().isEmpty()) {
            double shellC =
                    file.shell().stream().mapToDouble(SeriesPoint::max).max().orElse(Double.NaN);
            facts.add(new Fact(
                    "Hottest shell",
                    phrases.degrees(shellC),
                    "limit " + phrases.degrees(file.face().settings().shellLimitC())));
        }
        facts.add(new Fact("Gas", new GasSection(file).inShort(), ""));
        return new Facts(facts);
    }

    private Facts described(Phrases phrases) {
        ForgeDescription forge = forge();
        Burner burner = forge.burner();
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact(
                "Chamber inside",
                mm(forge.chamberWidthM()) + " × " + mm(forge.chamberHeightM()) + " × " + mm(forge.chamberDepthM())
                        + " mm",
                "width, height, depth"));
        facts.add(new Fact(
                "Burner",
                burner.fuel().name() + ", jet " + Phrases.fixed(burner.jetDiameterM() * MM_PER_M, 2) + " mm, throat "
                        + mm(burner.throatDiameterM()) + " mm, discharge "
                        + Phrases.fixed(burner.dischargeCoefficient(), 2) + " ± "
                        + Phrases.fixed(GasSection.TWO_SIDED_95 * burner.dischargeStandardUncertainty(), 2),
                "as the configuration has it; a jet set in the log book holds from then on"));
        int number = 1;
        for (Layer layer : forge.lining()) {
            double limitK = layer.material().serviceLimitK();
            facts.add(new Fact(
                    "Lining, layer " + number,
                    mm(layer.thicknessM()) + " mm of " + layer.material().name(),
                    Double.isFinite(limitK)
                            ? "service limit " + phrases.degrees(limitK - Constants.ZERO_CELSIUS_K)
                            : "service limit not known"));
            number++;
        }
        for (Opening opening : forge.openings()) {
            facts.add(new Fact(
                    "Opening " + opening.name(),
                    mm(opening.widthM()) + " × " + mm(opening.heightM()) + " mm",
                    opening.plugged() ? "with a plug" : ""));
        }
        facts.add(new Fact(
                "Limits",
                "chamber " + phrases.degrees(file.face().settings().chamberLimitC()) + ", shell "
                        + phrases.degrees(file.face().settings().shellLimitC()),
                ""));
        return new Facts(facts);
    }

    private static String mm(double metres) {
        double millimetres = metres * MM_PER_M;
        return Phrases.fixed(millimetres, Math.abs(millimetres - Math.rint(millimetres)) < 0.05 ? 0 : 1);
    }

    private List<Block> care(FitSections fit) {
        List<Block> blocks = new ArrayList<>();
        if (!fit.remarks().isEmpty()) {
            blocks.add(new Bullets(fit.remarks()));
        }
        blocks.addAll(Cautions.blocks());
        return blocks;
    }
}
