package org.bankfire.daemon.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Map;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.trial.Conditions;
import org.bankfire.analysis.trial.Correction;
import org.bankfire.analysis.trial.FigureKey;
import org.bankfire.analysis.trial.NextTrial.Proposal;
import org.bankfire.analysis.trial.StretchFigure;
import org.bankfire.analysis.trial.Trial;
import org.bankfire.analysis.trial.Trial.Corrected;
import org.bankfire.analysis.trial.Trial.StretchTold;
import org.bankfire.analysis.trial.TrialComparison;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialComparison.Scatter;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.analysis.trial.TrialSettings;
import org.bankfire.analysis.trial.TrialStretch;
import org.jspecify.annotations.Nullable;

/** Trials as one JSON object: the schema {@code Trials} of the API's document. */
public final class TrialJson {
    private static final JsonFactory FACTORY = new JsonFactory();

    private final JsonGenerator json;

    private TrialJson(JsonGenerator json) {
        this.json = json;
    }

    /** A series on one line. */
    public static String of(TrialSeries series) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            new TrialJson(json).series(series);
        } catch (IOException failure) {
            throw new UncheckedIOException("writing trials to memory", failure);
        }
        return text.toString();
    }

    private void series(TrialSeries series) throws IOException {
        json.writeStartObject();
        json.writeStringField("forge", series.forge().id());
        Figures.number(json, "targetC", Figures.celsius(series.forge().targetK()), 2);
        Conditions common = series.common();
        if (common == null) {
            json.writeNullField("conditions");
        } else {
            json.writeObjectFieldStart("conditions");
            Figures.number(json, "startC", Figures.celsius(common.startK()), 1);
            Figures.number(json, "ambientC", Figures.celsius(common.ambientK()), 1);
            Figures.number(json, "gasPa", common.gaugePa(), 0);
            json.writeEndObject();
        }
        json.writeStringField(
                "correctedWith", series.correctedWith() == KnownForge.Basis.FITTED ? "fitted" : "described");
        json.writeStringField("first", series.first().figure().code());
        json.writeArrayFieldStart("trials");
        for (Trial trial : series.trials()) {
            trial(trial);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("comparisons");
        for (TrialComparison comparison : series.comparisons()) {
            comparison(comparison);
        }
        json.writeEndArray();
        json.writeObjectFieldStart("next");
        json.writeArrayFieldStart("proposals");
        for (Proposal proposal : series.next().proposals()) {
            proposal(proposal);
        }
        json.writeEndArray();
        json.writeStringField("why", series.next().why());
        json.writeEndObject();
        json.writeArrayFieldStart("remarks");
        for (String remark : series.remarks()) {
            json.writeString(remark);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void settings(TrialSettings settings) throws IOException {
        json.writeObjectFieldStart("settings");
        for (Map.Entry<String, String> entry : settings.values().entrySet()) {
            json.writeStringField(entry.getKey(), entry.getValue());
        }
        json.writeEndObject();
    }

    private void key(FigureKey key) throws IOException {
        json.writeStringField("figure", key.figure().code());
        Figures.number(json, "atC", key.atC(), 2);
        json.writeStringField("unit", key.figure().unit());
    }

    private void band(Band band) throws IOException {
        Figures.significant(json, "value", band.value());
        Figures.significant(json, "low95", band.low95());
        Figures.significant(json, "high95", band.high95());
    }

    private void trial(Trial trial) throws IOException {
        json.writeStartObject();
        json.writeNumberField("trial", trial.number());
        settings(trial.settings());
        json.writeBooleanField("present", trial.present());
        json.writeArrayFieldStart("burns");
        for (String burn : trial.burns()) {
            json.writeString(burn);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("figures");
        for (Trial.Mean mean : trial.means()) {
            json.writeStartObject();
            key(mean.key());
            json.writeStringField("better", mean.key().figure().better().code());
            json.writeNumberField("burns", mean.burns());
            band(mean.band());
            json.writeStringField("because", mean.because());
            json.writeStringField("would", mean.would());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("stretches");
        for (StretchTold told : trial.stretches()) {
            stretch(told);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void stretch(StretchTold told) throws IOException {
        TrialStretch stretch = told.stretch();
        json.writeStartObject();
        json.writeStringField("burn", stretch.burn().burnId());
        json.writeStringField("start", stretch.burn().start().toString());
        Figures.number(json, "fromS", stretch.fromS(), 1);
        Figures.number(json, "toS", stretch.toS(), 1);
        Figures.number(json, "startC", Figures.celsius(stretch.startK()), 1);
        Figures.number(json, "ambientC", Figures.celsius(stretch.ambientK()), 1);
        Figures.number(json, "gasPa", stretch.gaugePaUntil(stretch.toS()), 0);
        json.writeArrayFieldStart("figures");
        for (StretchFigure figure : told.figures()) {
            json.writeStartObject();
            key(figure.key());
            band(figure.band());
            json.writeStringField("because", figure.because());
            json.writeStringField("would", figure.would());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("corrected");
        for (Map.Entry<FigureKey, Corrected> entry : told.corrected().entrySet()) {
            json.writeStartObject();
            key(entry.getKey());
            Figures.significant(json, "value", entry.getValue().value());
            Correction by = entry.getValue().by();
            correction("by", by == null ? null : by.shown(entry.getKey().figure()));
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("curve");
        for (double[] point : stretch.curve()) {
            json.writeStartArray();
            json.writeNumber(Figures.rounded(point[0], 1));
            json.writeNumber(Figures.rounded(point[1], 1));
            json.writeEndArray();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    /** In K or %. */
    private void correction(String name, @Nullable Correction by) throws IOException {
        if (by == null) {
            json.writeNullField(name);
            return;
        }
        json.writeObjectFieldStart(name);
        Figures.number(json, "start", by.start(), 2);
        Figures.number(json, "ambient", by.ambient(), 2);
        Figures.number(json, "pressure", by.pressure(), 2);
        json.writeEndObject();
    }

    private void comparison(TrialComparison comparison) throws IOException {
        json.writeStartObject();
        json.writeNumberField("from", comparison.from().number());
        json.writeNumberField("to", comparison.to().number());
        json.writeArrayFieldStart("changed");
        for (String name : comparison.changed()) {
            json.writeStartObject();
            json.writeStringField("setting", name);
            json.writeStringField("from", comparison.from().settings().of(name));
            json.writeStringField("to", comparison.to().settings().of(name));
            json.writeEndObject();
        }
        json.writeEndArray();
        FigureKey about = comparison.about();
        if (about == null) {
            json.writeNullField("about");
        } else {
            json.writeObjectFieldStart("about");
            key(about);
            json.writeEndObject();
        }
        json.writeStringField("verdict", comparison.verdict().code());
        json.writeStringField("sentence", comparison.sentence());
        json.writeArrayFieldStart("figures");
        for (Difference difference : comparison.differences()) {
            difference(difference);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void difference(Difference difference) throws IOException {
        json.writeStartObject();
        key(difference.key());
        json.writeStringField("differenceUnit", difference.key().figure().isPlain() ? "K" : "%");
        Figures.number(json, "difference", difference.value(), 2);
        Figures.number(json, "low95", difference.low95(), 2);
        Figures.number(json, "high95", difference.high95(), 2);
        Figures.significant(json, "p", difference.p());
        Figures.significant(json, "pTogether", difference.pTogether());
        json.writeStringField("verdict", difference.verdict().code());
        Scatter scatter = difference.scatter();
        if (scatter == null) {
            json.writeNullField("scatter");
        } else {
            json.writeObjectFieldStart("scatter");
            json.writeStringField("source", scatter.source().code());
            Figures.number(json, "value", scatter.value(), 2);
            Figures.number(json, "degreesOfFreedom", scatter.degreesOfFreedom(), 1);
            Figures.number(json, "modelAndSensors", scatter.modelAndSensors(), 2);
            json.writeEndObject();
        }
        if (difference.correctedFrom() == null || difference.correctedTo() == null) {
            json.writeNullField("correctedBy");
        } else {
            json.writeObjectFieldStart("correctedBy");
            correction("from", difference.correctedFrom());
            correction("to", difference.correctedTo());
            json.writeEndObject();
        }
        json.writeStringField("evidence", difference.evidence());
        json.writeStringField("would", difference.would());
        json.writeEndObject();
    }

    private void proposal(Proposal proposal) throws IOException {
        json.writeStartObject();
        json.writeStringField("change", proposal.change());
        settings(proposal.settings());
        json.writeBooleanField("repeat", proposal.repeat());
        Figures.number(json, "informationBits", proposal.informationBits(), 3);
        Figures.number(json, "effectBits", proposal.effectBits(), 3);
        Figures.number(json, "chanceBest", proposal.chanceBest(), 3);
        Figures.number(json, "expected", proposal.expected().value(), 1);
        Figures.number(json, "low95", proposal.expected().low95(), 1);
        Figures.number(json, "high95", proposal.expected().high95(), 1);
        json.writeStringField("known", proposal.known().code());
        json.writeStringField("why", proposal.why());
        json.writeEndObject();
    }
}
