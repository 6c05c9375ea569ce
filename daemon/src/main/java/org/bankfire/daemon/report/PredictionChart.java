package org.bankfire.daemon.report;

import java.io.Writer;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.Prediction.Point;

/**
 * A predicted heat-up as a picture (SVG 1.1): chamber temperature with its band, the target, and the shell. Readable in
 * black and white: lines differ by their strokes and bear their names.
 */
public final class PredictionChart {
    private static final double WIDTH = 760;
    private static final double HEIGHT = 420;
    private static final double LEFT = 72;
    private static final double RIGHT = 130;
    private static final double TOP = 40;
    private static final double BOTTOM = 48;
    private static final double[] TIME_STEPS_MIN = {1, 2, 5, 10, 15, 30, 60, 120, 240, 720, 1440};
    private static final int MOST_TIME_STEPS = 9;
    private static final double TEMPERATURE_STEP_C = 200;
    private static final double S_PER_MIN = 60;

    private final XMLStreamWriter svg;
    private final List<Point> curve;
    private final double endS;
    private final double topC;

    private PredictionChart(XMLStreamWriter svg, Prediction prediction, ForgeDescription forge) {
        this.svg = svg;
        curve = prediction.curve();
        endS = curve.get(curve.size() - 1).timeS();
        double hottest = Figures.celsius(forge.targetK());
        for (Point point : curve) {
            double high = point.chamberK().high95();
            hottest = Math.max(
                    hottest,
                    Figures.celsius(
                            Double.isFinite(high) ? high : point.chamberK().value()));
        }
        topC = TEMPERATURE_STEP_C * Math.ceil(hottest / TEMPERATURE_STEP_C);
    }

    /** Writes the picture; {@code out} stays open. */
    public static void write(ForgeDescription forge, Prediction prediction, Writer out) throws XMLStreamException {
        XMLStreamWriter svg = XMLOutputFactory.newFactory().createXMLStreamWriter(out);
        new PredictionChart(svg, prediction, forge).draw(forge, prediction);
        svg.flush();
    }

    private void draw(ForgeDescription forge, Prediction prediction) throws XMLStreamException {
        svg.writeStartDocument("1.0");
        svg.writeStartElement("svg");
        svg.writeDefaultNamespace("http://www.w3.org/2000/svg");
        svg.writeAttribute("viewBox", "0 0 " + number(WIDTH) + " " + number(HEIGHT));
        svg.writeAttribute("role", "img");
        svg.writeAttribute("font-family", "sans-serif");
        svg.writeAttribute("font-size", "13");
        words("title", forge.name() + ": predicted heat-up");
        words("desc", description(prediction));
        rectangle();
        axes();
        if (prediction.members() > 0) {
            band();
        }
        double targetC = Figures.celsius(forge.targetK());
        line("M" + place(0, targetC) + "L" + place(endS, targetC), "#5b5f66", 1.2, "7 5");
        line(path(point -> Figures.celsius(point.shellK())), "#3f6d83", 1.8, "2 3");
        line(path(point -> Figures.celsius(point.chamberK().value())), "#a33b12", 2.6, "");
        labels(targetC);
        text(LEFT, TOP - 18, "start", forge.name() + ": predicted heat-up, band 95 %");
        svg.writeEndElement();
        svg.writeEndDocument();
    }

    private static String description(Prediction prediction) {
        Point last = prediction.curve().get(prediction.curve().size() - 1);
        return "Chamber temperature over time from a cold start: "
                + Figures.fixed(Figures.celsius(last.chamberK().value()), 0) + " degrees Celsius after "
                + Figures.duration(last.timeS()) + "; target reached after "
                + Figures.duration(prediction.timeToTargetS().value()) + ".";
    }

    private void axes() throws XMLStreamException {
        for (double celsius = 0; celsius <= topC; celsius += TEMPERATURE_STEP_C) {
            line("M" + place(0, celsius) + "L" + place(endS, celsius), "#d9d6d0", 1, "");
            String unit = celsius + TEMPERATURE_STEP_C > topC ? " °C" : "";
            text(LEFT - 8, y(celsius) + 4, "end", Figures.fixed(celsius, 0) + unit);
        }
        double stepMin = TIME_STEPS_MIN[TIME_STEPS_MIN.length - 1];
        for (int i = TIME_STEPS_MIN.length - 1; i >= 0; i--) {
            stepMin = endS / S_PER_MIN / TIME_STEPS_MIN[i] <= MOST_TIME_STEPS ? TIME_STEPS_MIN[i] : stepMin;
        }
        for (double seconds = 0; seconds <= endS; seconds += stepMin * S_PER_MIN) {
            line("M" + place(seconds, 0) + "l0 5", "#5b5f66", 1, "");
            text(x(seconds), HEIGHT - BOTTOM + 20, "middle", Figures.fixed(seconds / S_PER_MIN, 0));
        }
        text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 8, "middle", "minutes since gas on");
    }

    private void band() throws XMLStreamException {
        StringBuilder path = new StringBuilder();
        for (Point point : curve) {
            path.append(path.isEmpty() ? "M" : "L")
                    .append(place(
                            point.timeS(), Figures.celsius(point.chamberK().high95())));
        }
        for (int i = curve.size() - 1; i >= 0; i--) {
            Point point = curve.get(i);
            path.append("L")
                    .append(place(
                            point.timeS(), Figures.celsius(point.chamberK().low95())));
        }
        svg.writeEmptyElement("path");
        svg.writeAttribute("d", path.append("Z").toString());
        svg.writeAttribute("fill", "#eac3a8");
        svg.writeAttribute("fill-opacity", "0.6");
    }

    private void labels(double targetC) throws XMLStreamException {
        Point last = curve.get(curve.size() - 1);
        double chamberY = y(Figures.celsius(last.chamberK().value())) + 4;
        double targetY = y(targetC) + 4;
        // Names that would lie upon each other give way.
        double apart = 15;
        if (Math.abs(targetY - chamberY) < apart) {
            targetY = targetY >= chamberY ? chamberY + apart : chamberY - apart;
        }
        text(WIDTH - RIGHT + 8, chamberY, "start", "chamber");
        text(WIDTH - RIGHT + 8, targetY, "start", "target " + Figures.fixed(targetC, 0) + " °C");
        text(WIDTH - RIGHT + 8, y(Figures.celsius(last.shellK())) + 4, "start", "shell");
    }

    private String path(ToDoubleFunction<Point> celsius) {
        StringBuilder path = new StringBuilder();
        for (Point point : curve) {
            path.append(path.isEmpty() ? "M" : "L").append(place(point.timeS(), celsius.applyAsDouble(point)));
        }
        return path.toString();
    }

    private void line(String path, String colour, double width, String dashes) throws XMLStreamException {
        svg.writeEmptyElement("path");
        svg.writeAttribute("d", path);
        svg.writeAttribute("fill", "none");
        svg.writeAttribute("stroke", colour);
        svg.writeAttribute("stroke-width", number(width));
        if (!dashes.isEmpty()) {
            svg.writeAttribute("stroke-dasharray", dashes);
        }
    }

    private void rectangle() throws XMLStreamException {
        svg.writeEmptyElement("rect");
        svg.writeAttribute("width", number(WIDTH));
        svg.writeAttribute("height", number(HEIGHT));
        svg.writeAttribute("fill", "#fffdf9");
    }

    private void text(double x, double y, String anchor, String words) throws XMLStreamException {
        svg.writeStartElement("text");
        svg.writeAttribute("x", number(x));
        svg.writeAttribute("y", number(y));
        svg.writeAttribute("text-anchor", anchor);
        svg.writeAttribute("fill", "#2b2a28");
        svg.writeCharacters(words);
        svg.writeEndElement();
    }

    private void words(String element, String words) throws XMLStreamException {
        svg.writeStartElement(element);
        svg.writeCharacters(words);
        svg.writeEndElement();
    }

    private String place(double seconds, double celsius) {
        return number(x(seconds)) + " " + number(y(celsius));
    }

    private double x(double seconds) {
        return LEFT + (WIDTH - LEFT - RIGHT) * seconds / endS;
    }

    private double y(double celsius) {
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * Math.max(0, celsius) / topC;
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }
}
