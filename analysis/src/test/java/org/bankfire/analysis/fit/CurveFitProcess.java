package org.bankfire.analysis.fit;

import static java.util.Objects.requireNonNull;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.OptionalDouble;

/** SciPy's curve_fit in a process of its own, spoken to in lines of JSON; see {@code cooling-curves/curve_fit.py}. */
final class CurveFitProcess implements AutoCloseable {
    /** Debian's, for which its python3-scipy is made; another on the path may lack it. */
    private static final String PYTHON = "/usr/bin/python3";

    private final ObjectMapper mapper = new ObjectMapper();
    private final Process process;
    private final BufferedReader answers;
    private final Writer requests;

    CurveFitProcess() throws IOException {
        Path script = Path.of(
                requireNonNull(System.getProperty("bankfire.fixtures"), "the build sets bankfire.fixtures"),
                "cooling-curves",
                "curve_fit.py");
        process = new ProcessBuilder(PYTHON, script.toString())
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        answers = process.inputReader(StandardCharsets.UTF_8);
        requests = process.outputWriter(StandardCharsets.UTF_8);
    }

    /** Parameters, standard errors and sum of squares as SciPy finds them; termination at that relative tolerance. */
    JsonNode fit(double[] timesS, double[] values, EmpiricalCurve curve, OptionalDouble known, double tolerance) {
        ObjectNode request = mapper.createObjectNode();
        request.put("curve", curve.name());
        request.put("tolerance", tolerance);
        request.set("t", mapper.valueToTree(timesS));
        request.set("y", mapper.valueToTree(values));
        request.set("known", known.isPresent() ? mapper.valueToTree(known.getAsDouble()) : mapper.nullNode());
        return ask(request);
    }

    /** Repeats all fits asked for so far. */
    JsonNode repeat(int times) {
        return ask(mapper.createObjectNode().put("repeat", times));
    }

    private JsonNode ask(ObjectNode request) {
        try {
            requests.write(mapper.writeValueAsString(request));
            requests.write('\n');
            requests.flush();
            String answer = answers.readLine();
            if (answer == null) {
                throw new IllegalStateException(PYTHON + " ended without an answer: is python3-scipy installed? "
                        + "fixtures/verify.sh installs it");
            }
            return mapper.readTree(answer);
        } catch (IOException e) {
            throw new UncheckedIOException("no word with " + PYTHON + ": is python3-scipy installed?", e);
        }
    }

    @Override
    public void close() throws IOException {
        // The script ends with its input; should it hang, it is stopped.
        requests.close();
        process.destroy();
    }
}
