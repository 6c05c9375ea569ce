package org.bankfire.daemon.figures;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Empirical fits beside SciPy's, by turns in a process of their own: see {@code FitDuel} among the tests of analysis. */
final class FitFigure {
    private FitFigure() {}

    static List<Figure> figures(double seconds) throws IOException, InterruptedException {
        Path tests = Path.of("..", "analysis", "target", "test-classes").toAbsolutePath();
        Process duel = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Dbankfire.fixtures=" + System.getProperty("bankfire.fixtures", "../fixtures"),
                        "-cp",
                        tests + File.pathSeparator + System.getProperty("java.class.path"),
                        "org.bankfire.analysis.fit.FitDuel",
                        Double.toString(seconds))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        List<Figure> figures = new ArrayList<>();
        try (BufferedReader said = duel.inputReader()) {
            for (String line = said.readLine(); line != null; line = said.readLine()) {
                String[] words = line.split("\t", -1);
                double ours = Double.parseDouble(words[1]);
                double theirs = Double.parseDouble(words[2]);
                figures.add(new Figure(
                        "fit of " + words[0],
                        String.format(Locale.ROOT, "%.2f ms", ours / 1e3),
                        String.format(Locale.ROOT, "SciPy curve_fit: %.2f ms", theirs / 1e3),
                        String.format(Locale.ROOT, "%.2f", theirs / ours),
                        "",
                        Figure.Verdict.NO_TARGET));
            }
        }
        if (duel.waitFor() != 0 || figures.isEmpty()) {
            throw new IOException("the fits failed with exit code " + duel.exitValue());
        }
        return figures;
    }
}
