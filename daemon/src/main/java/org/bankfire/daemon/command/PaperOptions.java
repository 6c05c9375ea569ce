package org.bankfire.daemon.command;

import java.io.IOException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import org.bankfire.dashboard.source.ReportBook.Format;
import org.bankfire.dashboard.source.ReportBook.Paper;
import org.bankfire.dashboard.source.ReportBook.Pressure;
import org.bankfire.dashboard.source.ReportBook.Reader;
import org.bankfire.dashboard.source.ReportBook.Temperature;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** How a report is written: the options of all commands that write one. */
final class PaperOptions {
    @Option(
            names = "--units",
            split = ",",
            paramLabel = "UNIT",
            description = "Units of temperature and pressure, such as degF,psi: degC or degF; kPa, bar, psi or inH2O"
                    + " (default: degC,bar).")
    private List<String> units = List.of();

    @Option(
            names = "--zone",
            paramLabel = "ZONE",
            description = "Zone in which times are told, such as Europe/Oslo (default: this machine's).")
    private @Nullable String zone;

    @Option(names = "--paper", paramLabel = "A4|LETTER", description = "Paper of the PDF (default: A4).")
    private Paper paper = Paper.A4;

    @Spec(Spec.Target.MIXEE)
    private @Nullable CommandSpec spec;

    /** What the ending of {@code out} asks for. */
    Format format(Path out) {
        String name = out.toString().toLowerCase(Locale.ROOT);
        if (name.endsWith(".pdf")) {
            return Format.PDF;
        }
        if (name.endsWith(".html") || name.endsWith(".htm")) {
            return Format.HTML;
        }
        throw usage("--out \"" + out + "\": allowed is a name that ends in .pdf or .html");
    }

    /** For whom it is written. */
    Reader reader() {
        Temperature temperature = Temperature.C;
        Pressure pressure = Pressure.BAR;
        for (String unit : units) {
            switch (unit.strip().toLowerCase(Locale.ROOT)) {
                case "degc" -> temperature = Temperature.C;
                case "degf" -> temperature = Temperature.F;
                case "kpa" -> pressure = Pressure.KPA;
                case "bar" -> pressure = Pressure.BAR;
                case "psi" -> pressure = Pressure.PSI;
                case "inh2o" -> pressure = Pressure.INH2O;
                default ->
                    throw usage("--units \"" + unit + "\": allowed are degC or degF, and kPa, bar, psi or inH2O");
            }
        }
        return new Reader(temperature, pressure, zone(), paper);
    }

    private ZoneId zone() {
        String wanted = zone;
        if (wanted == null) {
            return ZoneId.systemDefault();
        }
        try {
            return ZoneId.of(wanted);
        } catch (DateTimeException bad) {
            throw usage("--zone \"" + wanted
                    + "\": allowed is a zone of the IANA time zone database, such as Europe/Oslo, or UTC");
        }
    }

    /** Whole or not at all: what stood there before stays when the disk is full. */
    static void save(byte[] report, Path out) throws IOException {
        Path target = out.toAbsolutePath();
        Path folder = target.getParent();
        if (folder == null || !Files.isDirectory(folder)) {
            throw new IOException("--out \"" + out + "\": there is no folder " + folder);
        }
        Path part = folder.resolve(target.getFileName() + ".part");
        try {
            Files.write(part, report);
            try {
                Files.move(part, target, StandardCopyOption.ATOMIC_MOVE);
            } catch (AtomicMoveNotSupportedException notHere) {
                Files.move(part, target, StandardCopyOption.REPLACE_EXISTING);
            }
        } finally {
            Files.deleteIfExists(part);
        }
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
