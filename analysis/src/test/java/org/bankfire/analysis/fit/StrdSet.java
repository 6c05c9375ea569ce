package org.bankfire.analysis.fit;

import static java.util.Objects.requireNonNull;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.hipparchus.analysis.differentiation.Gradient;

/**
 * A nonlinear regression set of the NIST/ITL Statistical Reference Datasets, read from its file as published.
 *
 * @param model the model
 * @param parameters start 1, start 2, certified value and certified standard deviation of each
 * @param sumOfSquares certified
 * @param x predictor
 * @param y response
 */
record StrdSet(StrdModel model, List<Certified> parameters, double sumOfSquares, List<Double> x, List<Double> y) {
    /** One row of the table of a set. */
    record Certified(double start1, double start2, double value, double standardDeviation) {}

    private static final Pattern NUMBERS = Pattern.compile("[-+]?\\d*\\.?\\d+(?:[eE][-+]?\\d+)?");

    static StrdSet read(StrdModel model) {
        Path file = Path.of(
                requireNonNull(System.getProperty("bankfire.fixtures"), "the build sets bankfire.fixtures"),
                "nist-strd",
                model.name() + ".dat");
        try {
            List<Certified> parameters = new ArrayList<>();
            List<Double> x = new ArrayList<>();
            List<Double> y = new ArrayList<>();
            double squares = Double.NaN;
            boolean data = false;
            for (String line : Files.readAllLines(file)) {
                if (line.matches("\\s*b\\d\\s*=.*")) {
                    List<Double> row = numbers(line.substring(line.indexOf('=') + 1));
                    parameters.add(new Certified(row.get(0), row.get(1), row.get(2), row.get(3)));
                } else if (line.startsWith("Residual Sum of Squares:")) {
                    squares = numbers(line).get(0);
                } else if (line.matches("Data:\\s+y\\s+x\\s*")) {
                    data = true;
                } else if (data && !line.isBlank()) {
                    List<Double> row = numbers(line);
                    y.add(row.get(0));
                    x.add(row.get(1));
                }
            }
            if (parameters.isEmpty() || x.isEmpty() || Double.isNaN(squares)) {
                throw new IllegalStateException(file + " lacks its table, sum of squares or data");
            }
            return new StrdSet(model, parameters, squares, x, y);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The set as a problem, without bounds or priors. */
    FitProblem problem(int start) {
        List<FitParameter> unknowns = new ArrayList<>();
        for (int j = 0; j < parameters.size(); j++) {
            double from =
                    start == 1 ? parameters.get(j).start1() : parameters.get(j).start2();
            unknowns.add(FitParameter.of("b" + (j + 1), "1", from, Math.abs(from)));
        }
        return new FitProblem(unknowns, new Differentiated());
    }

    private static List<Double> numbers(String text) {
        List<Double> numbers = new ArrayList<>();
        Matcher matcher = NUMBERS.matcher(text);
        while (matcher.find()) {
            numbers.add(Double.valueOf(matcher.group()));
        }
        return numbers;
    }

    private final class Differentiated implements ResidualModel {
        @Override
        public int residualCount() {
            return x.size();
        }

        @Override
        public void residuals(double[] at, double[] residuals) {
            Gradient[] b = variables(at);
            for (int i = 0; i < residuals.length; i++) {
                residuals[i] = model.at(b, x.get(i)).getValue() - y.get(i);
            }
        }

        @Override
        public void jacobian(double[] at, double[] residuals, double[][] columns) {
            Gradient[] b = variables(at);
            for (int i = 0; i < residuals.length; i++) {
                Gradient value = model.at(b, x.get(i));
                for (int j = 0; j < at.length; j++) {
                    columns[j][i] = value.getPartialDerivative(j);
                }
            }
        }

        private Gradient[] variables(double[] at) {
            Gradient[] variables = new Gradient[at.length];
            for (int j = 0; j < at.length; j++) {
                variables[j] = Gradient.variable(at.length, j, at[j]);
            }
            return variables;
        }
    }
}
