package org.bankfire.daemon.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Media;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.bankfire.daemon.acquire.virtual.PackWriter;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.PageBrowser;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Reports that the built jar writes, from a file and from the store, read back as a person would. */
final class ReportIT {
    /** 2026-03-01T10:00:00Z. */
    private static final double T0 = 1_772_359_200;

    private static final String BURN = "shed-20260301T100030Z";
    /** A4 at the browser's 96 dots an inch. */
    private static final int A4_WIDTH = 794;

    @TempDir
    Path folder;

    private Path config() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        return Files.writeString(folder.resolve("bankfire.toml"), Files.readString(example));
    }

    /** Lit after 30 s, off at 15 min, five minutes of cooling; one line a second. */
    private Path record() throws Exception {
        VirtualForge forge = new VirtualForge(5);
        PackWriter writer = new PackWriter("shed");
        List<String> lines = new ArrayList<>();
        for (int s = 0; s < 1_200; s++) {
            if (s == 30) {
                forge.setPressure(VirtualForge.FULL_PA);
                forge.openGas();
                forge.light();
            } else if (s == 900) {
                forge.closeGas();
            }
            forge.step(1);
            lines.add(new String(writer.write(forge.observe(), s, T0 + s), StandardCharsets.UTF_8));
        }
        return Files.write(folder.resolve("burn.ndjson"), lines);
    }

    private static List<String> run(int exitCode, Path config, String... arguments) throws Exception {
        List<String> all = new ArrayList<>(List.of(arguments));
        all.addAll(List.of("--config", config.toString()));
        try (DaemonProcess run = DaemonProcess.runToEnd(all.toArray(String[]::new))) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isEqualTo(exitCode);
            assertThat(run.output()).isEmpty();
            return run.log();
        }
    }

    private static String text(Path pdf) throws Exception {
        try (PDDocument document = Loader.loadPDF(pdf.toFile())) {
            return new PDFTextStripper().getText(document);
        }
    }

    @Test
    void aRecordedBurnAndTheSameOfTheStoreGiveTheSameReport() throws Exception {
        Path config = config();
        Path record = record();
        Path fromFile = folder.resolve("file.pdf");
        run(0, config, "report", record.toString(), "--out", fromFile.toString(), "--zone", "UTC");
        String told = text(fromFile);
        assertThat(told)
                .contains("Shed forge, burn of 1 March 2026", "Loss coefficient", "not a burner safety control", "°C");

        run(0, config, "import", record.toString());
        Path fromStore = folder.resolve("store.pdf");
        run(0, config, "report", "--burn", BURN, "--out", fromStore.toString(), "--zone", "UTC");
        assertThat(withoutMoment(text(fromStore))).isEqualTo(withoutMoment(told));
        try (var left = Files.list(folder)) {
            assertThat(left).noneMatch(file -> file.toString().endsWith(".part"));
        }
    }

    private static String withoutMoment(String report) {
        return report.replaceAll("Report made on [^.]*\\.", "");
    }

    @Test
    void thePageIsAsWideAsTheSheetAndPrintsOnBothPapers() throws Exception {
        Path config = config();
        Path page = folder.resolve("report.html");
        run(0, config, "report", record().toString(), "--out", page.toString(), "--units", "degF,psi");
        try (PageBrowser browser = new PageBrowser()) {
            Page open = browser.open(page.toUri().toString(), A4_WIDTH, 1_123);
            assertThat(open.locator("h2").allTextContents())
                    .contains("The burn in short", "Chamber and gas over the burn", "Gas", "Read this with care");
            assertThat(open.locator("svg").count()).isGreaterThanOrEqualTo(3);
            assertThat(open.locator("body").innerText())
                    .contains("°F")
                    .contains("psi")
                    .doesNotContain("°C");
            for (int width : new int[] {A4_WIDTH, 320}) {
                open.setViewportSize(width, 1_000);
                assertThat(open.evaluate("document.documentElement.scrollWidth"))
                        .as("width " + width)
                        .isEqualTo(width);
            }
            open.setViewportSize(A4_WIDTH, 1_123);
            open.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
            Path shots = Files.createDirectories(Path.of("target", "screenshots"));
            open.screenshot(new Page.ScreenshotOptions()
                    .setPath(shots.resolve("report-page.png"))
                    .setFullPage(true));
            for (String paper : List.of("A4", "Letter")) {
                Path printed = shots.resolve("report-" + paper + ".pdf");
                open.pdf(new Page.PdfOptions().setFormat(paper).setPath(printed));
                assertThat(text(printed)).contains("Shed forge, burn of 1 March 2026", "Read this with care");
            }
        }
    }

    @Test
    void whatCannotBeReportedIsRefusedInWords() throws Exception {
        Path config = config();
        Path record = record();
        String out = folder.resolve("report.pdf").toString();
        assertThat(run(2, config, "report", "--out", out)).anyMatch(line -> line.contains("FILE… or --burn ID"));
        assertThat(run(2, config, "report", record.toString(), "--out", "report.doc"))
                .anyMatch(line -> line.contains("report.doc") && line.contains(".pdf or .html"));
        assertThat(run(2, config, "report", record.toString(), "--out", out, "--units", "furlong"))
                .anyMatch(line -> line.contains("furlong") && line.contains("inH2O"));
        assertThat(run(2, config, "report", record.toString(), "--burn", "shed-20200101T000000Z", "--out", out))
                .anyMatch(line -> line.contains("no such burn") && line.contains(BURN));
        assertThat(run(1, config, "report", record.toString(), "--out", folder + "/nowhere/report.pdf"))
                .anyMatch(line -> line.contains("nowhere"));
        Path empty = Files.writeString(
                folder.resolve("empty.ndjson"), "[{\"bn\":\"shed:\",\"bt\":1772359200,\"n\":\"seq\",\"v\":1}]\n");
        assertThat(run(1, config, "report", empty.toString(), "--out", out))
                .anyMatch(line -> line.contains("nothing to report") && line.contains("empty.ndjson"));
        assertThat(folder.resolve("report.pdf")).doesNotExist();
    }
}
